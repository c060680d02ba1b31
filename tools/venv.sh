#!/bin/sh
# Makes .venv with the package (editable) and what development needs. Ends without a word where it is ready.
set -eu
cd "$(dirname "$0")/.."

good() {
    "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null
}

find_python() {
    for name in ${PYTHON:-} python3 python3.11 python3.12 python3.13 python3.14 python; do
        if command -v "$name" >/dev/null && good "$name"; then
            echo "$name"
            return
        fi
    done
    echo "error: no Python 3.11 or newer was found" >&2
    echo "  do: install one, or name it: make PYTHON=/path/to/python3" >&2
    exit 1
}

make_venv() {
    if [ -x .venv/bin/python ] && .venv/bin/python -m pip --version >/dev/null 2>&1; then
        return
    fi
    python=$(find_python)
    if ! "$python" -m venv --clear .venv; then
        "$python" tools/system_packages.py venv
        "$python" -m venv --clear .venv
    fi
}

make_venv
.venv/bin/python -m pip install --quiet --disable-pip-version-check --upgrade 'pip>=25.1'
.venv/bin/python -m pip install --quiet --disable-pip-version-check --editable . --group dev
touch .venv/ready
