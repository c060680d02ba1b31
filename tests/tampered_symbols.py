"""Mutations of a label's QR symbol and of what stands round it."""

from __future__ import annotations

from tampering import box, change_symbol, form, paint, picture, put, resource, symbol_box, symbol_of

from labeltool.output.content import modules
from labeltool.symbol.qr import matrix
from labeltool.typeset.frame import Modules


def _drawn(found, matrix_numbers: str, bars: bytes | None = None) -> bytes:
    return f"q {matrix_numbers} cm ".encode() + (found[5] if bars is None else bars) + b" f Q"


def _numbers(found) -> tuple[float, float, float]:
    return float(found[1]), float(found[3]), float(found[4])


def _placed(pdf, change):
    def again(found):
        side, x, y = _numbers(found)
        return _drawn(found, " ".join(f"{item:.4f}" for item in change(side, x, y)))
    change_symbol(pdf, again)


def _modules(found) -> int:
    return 1 + max(int(float(line)) for line in found[5].split()[1::5])


def the_symbol_moved_a_millimetre(pdf):
    _placed(pdf, lambda side, x, y: (side, 0, 0, -side, x - 2.83, y))


def the_symbol_moved_a_third_of_a_millimetre(pdf):
    _placed(pdf, lambda side, x, y: (side, 0, 0, -side, x, y + 0.95))


def the_symbol_a_tenth_smaller(pdf):
    _placed(pdf, lambda side, x, y: (0.9 * side, 0, 0, -0.9 * side, x, y))


def the_symbol_larger(pdf):
    _placed(pdf, lambda side, x, y: (1.06 * side, 0, 0, -1.06 * side, x - 0.6 * side, y + 0.6 * side))


def the_symbol_stretched(pdf):
    _placed(pdf, lambda side, x, y: (1.05 * side, 0, 0, -side, x, y))


def the_symbol_turned_a_quarter(pdf):
    count = _modules(symbol_of(pdf))
    _placed(pdf, lambda side, x, y: (0, -side, -side, 0, x + count * side, y))


def the_symbol_turned_round(pdf):
    count = _modules(symbol_of(pdf))
    _placed(pdf, lambda side, x, y: (-side, 0, 0, side, x + count * side, y - count * side))


def the_symbol_turned_a_little(pdf):
    _placed(pdf, lambda side, x, y: (side * 0.9994, side * 0.035, side * 0.035, -side * 0.9994, x, y - 0.6))


def the_symbol_mirrored(pdf):
    count = _modules(symbol_of(pdf))
    _placed(pdf, lambda side, x, y: (-side, 0, 0, -side, x + count * side, y))


def the_symbol_in_grey(pdf):
    change_symbol(pdf, lambda found: b"q 0.5 g " + found[0] + b" Q")


def the_symbol_in_red(pdf):
    change_symbol(pdf, lambda found: b"q 0.8 0.1 0.1 rg " + found[0] + b" Q")


def the_symbol_white_on_black(pdf):
    def inverted(found):
        side, x, y = _numbers(found)
        count = _modules(found)
        ground = box(x - 4 * side, y - (count + 4) * side, (count + 8) * side, (count + 8) * side)
        return f"q 0 g {ground} f Q q 1 g ".encode() + found[0] + b" Q"
    change_symbol(pdf, inverted)


def the_symbol_left_out(pdf):
    change_symbol(pdf, lambda found: b"")


def a_row_of_the_symbol_left_out(pdf):
    change_symbol(pdf, lambda found: _without(found, lambda line: line == 9))


def a_few_modules_of_the_symbol_left_out(pdf):
    change_symbol(pdf, lambda found: _without(found, lambda line: line in (10, 11), most=3))


def _without(found, drop, most=99):
    numbers = found[5].split()
    kept, gone = [], 0
    for index in range(0, len(numbers), 5):
        if drop(int(numbers[index + 1])) and gone < most:
            gone += 1
        else:
            kept += numbers[index:index + 5]
    return _drawn(found, f"{found[1].decode()} 0 0 -{found[1].decode()} {found[3].decode()} {found[4].decode()}",
                  b" ".join(kept))


def one_module_blackened(pdf):
    left, low, side = symbol_box(pdf)
    paint(pdf, f"0 g {box(left + side * 0.5, low + side * 0.55, side / 22, side / 22)} f")


def _other(pdf, text: str, *, level: str | None = None):
    """The same place, another content."""
    found = symbol_of(pdf)
    side, x, y = _numbers(found)
    qr = matrix(text) if level is None else matrix(text, level=level)
    share = _modules(found) / len(qr.rows)
    drawn = modules(Modules(0, 0, side * share / (72 / 25.4), qr.rows, text, qr.version, qr.level, qr.mask), 0)
    change_symbol(pdf, lambda _: f"q 1 0 0 1 {x} {y} cm ".encode() + drawn.encode() + b" Q")


def a_symbol_that_leads_elsewhere(pdf):
    _other(pdf, "260503C25")


def a_symbol_in_lower_case(pdf):
    _other(pdf, "260503a31")


def a_link_instead_of_the_code(pdf):
    _other(pdf, "HTTPS://OTHER.EXAMPLE/260503A31")


def the_symbols_of_two_batches_changed_about(pdf):
    one, other = symbol_of(pdf, "/L0")[0], symbol_of(pdf, "/L1")[0]
    first, second = form(pdf, "/L0"), form(pdf, "/L1")
    put(first, first.read_bytes().replace(one, other))
    put(second, second.read_bytes().replace(other, one))


def a_line_in_the_quiet_zone(pdf):
    left, low, side = symbol_box(pdf)
    paint(pdf, f"0 g {box(left - side / 10, low, 0.5, side)} f")


def a_faint_line_in_the_quiet_zone(pdf):
    left, low, side = symbol_box(pdf)
    paint(pdf, f"0.7 g {box(left - side / 10, low, 0.6, side)} f")


def a_dot_in_the_quiet_zone(pdf):
    left, low, side = symbol_box(pdf)
    paint(pdf, f"0 g {box(left + side / 2, low - side / 10, 0.7, 0.7)} f")


def the_symbol_touched_by_a_frame(pdf):
    left, low, side = symbol_box(pdf)
    paint(pdf, f"1 w {box(left - 1, low - 1, side + 2, side + 2)} S")


def a_white_patch_on_the_symbol(pdf):
    left, low, side = symbol_box(pdf)
    paint(pdf, f"1 g {box(left + side * 0.45, low + side * 0.45, side * 0.1, side * 0.1)} f")


def a_picture_in_the_middle_of_the_symbol(pdf):
    left, low, side = symbol_box(pdf)
    resource(pdf, "/XObject", "/Im0", picture(pdf, bytes([0, 255] * 32), 8, 8))
    paint(pdf, f"{side * 0.2:.2f} 0 0 {side * 0.2:.2f} {left + side * 0.4:.2f} {low + side * 0.4:.2f} cm /Im0 Do")


def a_second_symbol_beside_it(pdf):
    qr = matrix("260503C25")
    more = modules(Modules(0, 0, 0.3, qr.rows, "", qr.version, qr.level, qr.mask), 0)
    paint(pdf, f"1 0 0 1 40 780 cm {more}")


def a_second_symbol_in_the_label(pdf):
    left, low, _ = symbol_box(pdf)
    qr = matrix("260503C25")
    more = modules(Modules(0, 0, 0.2, qr.rows, "", qr.version, qr.level, qr.mask), 0)
    paint(pdf, f"1 0 0 1 {left - 40:.2f} {low + 30:.2f} cm {more}")


def the_symbol_as_a_coarse_picture(pdf):
    left, low, side = symbol_box(pdf)
    qr = matrix("260503A31")
    count = len(qr.rows)
    pixels = bytes(0 if qr.rows[y * count // 40][x * count // 40] == "1" else 255 for y in range(40) for x in range(40))
    resource(pdf, "/XObject", "/Im0", picture(pdf, pixels, 40, 40))
    change_symbol(pdf, lambda _: b"")
    paint(pdf, f"{side:.3f} 0 0 {side:.3f} {left:.3f} {low:.3f} cm /Im0 Do")
