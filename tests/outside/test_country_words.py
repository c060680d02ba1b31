"""Country words against python-stdnum (LGPL), which nobody here wrote.

Countries: the ISO 3166-1 alpha-2 list of stdnum.isin; members of the EU: stdnum.eu.vat, where Greece is filed as
"gr" and XI is Northern Ireland, no member.
"""

from __future__ import annotations

import stdnum.eu.vat
import stdnum.isin

from labeltool.formula.vocabulary import COUNTRIES, EU_MEMBERS, home_market


def test_countries_are_those_of_iso_3166() -> None:
    withdrawn = {"AN", "CS"}  # old securities still carry them
    assert set(stdnum.isin._iso_3116_1_country_codes) - withdrawn == COUNTRIES


def test_members_of_the_union() -> None:
    assert {code.upper() for code in stdnum.eu.vat.MEMBER_STATES} - {"XI"} == EU_MEMBERS


def test_every_member_sells_in_the_union_and_nobody_else() -> None:
    assert {code for code in COUNTRIES if home_market(code) == "EU"} == EU_MEMBERS
    assert {code: home_market(code) for code in ("GB", "US", "CA", "CH", "NO")} == {
        "GB": "UK", "US": "US", "CA": "CA", "CH": None, "NO": None,
    }
