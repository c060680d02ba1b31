"""Mutations of a label's words: what a file looks like after somebody or something went over it."""

from __future__ import annotations

from io import BytesIO

import pikepdf
from fontTools.ttLib import TTFont
from tampering import (
    around_line,
    box,
    change_digit,
    change_line,
    form,
    label_size,
    lines,
    paint,
    places,
    put,
    resource,
    words_of,
)


def _swap(line: bytes, at: int = 5) -> bytes:
    words = words_of(line)
    return line.replace(words, words[:at] + words[at + 1:at + 2] + words[at:at + 1] + words[at + 2:])


def _origin(line: bytes) -> tuple[float, float]:
    numbers = line.split(b"0 0 Tm 1 0 0 1 ")[1].split()
    return float(numbers[0]), float(numbers[1])


def _with_numbers(line: bytes, before: bytes) -> bytes:
    x, y = _origin(line)
    return line.replace(f"1 0 0 1 {_text(line, 0)} {_text(line, 1)} Tm".encode(), before + b" %.4f %.4f Tm" % (x, y))


def _text(line: bytes, index: int) -> str:
    return line.split(b"0 0 Tm 1 0 0 1 ")[1].split()[index].decode()


def one_letter_changed(pdf):
    change_line(pdf, lambda line: line.replace(words_of(line), b"e" + words_of(line)[1:]))


def two_letters_changed_places(pdf):
    change_line(pdf, _swap)


def a_space_left_out(pdf):
    change_line(pdf, lambda line: line.replace(words_of(line), words_of(line).replace(b" ", b"", 1)))


def a_letter_left_out(pdf):
    change_line(pdf, lambda line: line.replace(words_of(line), words_of(line)[:-3] + words_of(line)[-2:]))


def a_letter_doubled(pdf):
    change_line(pdf, lambda line: line.replace(words_of(line), words_of(line)[:6] + words_of(line)[5:]))


def a_line_left_out(pdf):
    change_line(pdf, lambda line: b"")


def two_lines_changed_places(pdf):
    one, other = lines(pdf)[4:6]
    data = form(pdf).read_bytes().replace(words_of(one), b"\x00", 1).replace(words_of(other), words_of(one), 1)
    put(form(pdf), data.replace(b"\x00", words_of(other), 1))


def a_word_added(pdf):
    change_line(pdf, lambda line: line.replace(words_of(line), words_of(line) + b"on"))


def a_line_added(pdf):
    def twice(line):
        return line + b"\n" + line.replace(_text(line, 1).encode(), b"3.1")
    change_line(pdf, twice)


def a_digit_of_code_or_date_changed(pdf):
    change_digit(pdf, b"7", b"2")


def a_digit_of_the_code_left_out(pdf):
    change_digit(pdf, b"1", b"")


def words_in_white(pdf):
    around_line(pdf, b"1 g")


def words_in_light_grey(pdf):
    around_line(pdf, b"0.75 g")


def words_in_middle_grey(pdf):
    around_line(pdf, b"0.45 g")


def words_in_red(pdf):
    around_line(pdf, b"0.85 0 0 rg")


def words_in_yellow(pdf):
    around_line(pdf, b"1 0.9 0 rg")


def words_in_dark_blue(pdf):
    around_line(pdf, b"0 0 0.6 rg")


def words_neither_filled_nor_drawn(pdf):
    around_line(pdf, b"3 Tr")


def words_as_hollow_lines(pdf):
    around_line(pdf, b"0.05 w 1 Tr")


def words_made_bold_by_a_line(pdf):
    around_line(pdf, b"0.8 w 2 Tr")


def words_used_as_a_clip_alone(pdf):
    around_line(pdf, b"7 Tr")


def words_tiny(pdf):
    change_line(pdf, lambda line: _sized(line, 0.05))


def words_a_tenth_smaller(pdf):
    change_line(pdf, lambda line: _sized(line, 0.9))


def words_a_tenth_larger(pdf):
    change_line(pdf, lambda line: _sized(line, 1.1))


def _sized(line: bytes, factor: float) -> bytes:
    size = line.split(b" Tf")[0].split()[-1]
    return line.replace(size + b" Tf", b"%.4f Tf" % (float(size) * factor))


def words_squeezed(pdf):
    around_line(pdf, b"90 Tz")


def words_spaced_out(pdf):
    around_line(pdf, b"0.3 Tc")


def words_raised(pdf):
    around_line(pdf, b"1.5 Ts")


def words_moved_half_a_millimetre(pdf):
    around_line(pdf, b"1 0 0 1 1.42 0 cm")


def words_turned_by_two_degrees(pdf):
    change_line(pdf, lambda line: _with_numbers(line, b"0.99939 0.0349 -0.0349 0.99939"))


def words_slanted(pdf):
    change_line(pdf, lambda line: _with_numbers(line, b"1 0 0.25 1"))


def words_stretched_upwards(pdf):
    change_line(pdf, lambda line: _with_numbers(line, b"1 0 0 1.15"))


def words_mirrored(pdf):
    change_line(pdf, lambda line: _with_numbers(line, b"1 0 0 -1"))


def a_line_clipped_at_its_foot(pdf):
    def clipped(line):
        x, y = _origin(line)
        return f"q {box(x - 2, y + 1.4, 130, 12)} W n ".encode() + line + b" Q"
    change_line(pdf, clipped)


def a_line_clipped_at_its_end(pdf):
    def clipped(line):
        x, y = _origin(line)
        return f"q {box(x - 2, y - 4, 60, 16)} W n ".encode() + line + b" Q"
    change_line(pdf, clipped)


def a_label_clipped_at_its_right_edge(pdf):
    width, height = label_size(pdf)
    form(pdf).BBox = pikepdf.Array([0, 0, width * 0.7, height])


def _over(pdf, colour, width=20.0, height=6.0):
    left, low, _ = places(pdf)[0]
    x, y = _origin(lines(pdf)[5])
    return f"{colour} {box(left + x, low + y, width, height)} f"


def words_covered_by_white(pdf):
    paint(pdf, _over(pdf, "1 g"))


def words_covered_by_black(pdf):
    paint(pdf, _over(pdf, "0 g"))


def a_grey_bar_under_words(pdf):
    paint(pdf, _over(pdf, "0.8 g"), first=True)


def words_struck_through(pdf):
    line = lines(pdf)[5]
    x, y = _origin(line)
    put(form(pdf), form(pdf).read_bytes().rstrip() + f"\n0 g {box(x, y + 2, 60, 0.4)} f\n".encode())


def words_seen_through_a_veil(pdf):
    resource(pdf, "/ExtGState", "/G0", pikepdf.Dictionary(Type=pikepdf.Name.ExtGState, ca=0.6))
    paint(pdf, "/G0 gs " + _over(pdf, "1 g", 200, 150))


def _fonts(pdf):
    return list(form(pdf).Resources.Font.values())


def a_font_no_longer_embedded(pdf):
    del _fonts(pdf)[0].FontDescriptor["/FontFile2"]


def every_font_replaced_by_a_standard_one(pdf):
    for name in form(pdf).Resources.Font:
        form(pdf).Resources.Font[name] = pdf.make_indirect(pikepdf.Dictionary(
            Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica))


def the_weights_changed_about(pdf):
    one, other = list(form(pdf).Resources.Font)[:2]
    fonts = form(pdf).Resources.Font
    fonts[one], fonts[other] = fonts[other], fonts[one]


def a_glyph_that_shows_another_letter(pdf):
    """The file says "u" as before; on paper stands "n": only the drawing of the letter was changed."""
    for font in _fonts(pdf):
        stream = font.FontDescriptor.FontFile2
        inside = TTFont(BytesIO(stream.read_bytes()), lazy=False)
        glyphs = inside["glyf"]
        order = inside.getGlyphOrder()
        filled = [name for name in order[2:] if glyphs[name].numberOfContours > 0]
        one, other = filled[10], filled[20]
        glyphs[one], glyphs[other] = glyphs[other], glyphs[one]
        target = BytesIO()
        inside.save(target)
        stream.write(target.getvalue())


def a_table_of_letters_that_lies(pdf):
    """Paper shows the same; who copies or searches the words gets others."""
    for font in _fonts(pdf):
        data = font.ToUnicode.read_bytes()
        put(font.ToUnicode, data.replace(b"<0065>", b"<0063>").replace(b"<0061>", b"<006F>"))


def words_as_a_picture(pdf):
    for name in ("/L0", "/L1"):
        data = form(pdf, name).read_bytes()
        start = data.index(b"BT ")
        put(form(pdf, name), data[:start])
