"""Each parameter of the grade on hand-made bitmaps of known contrast, damage and distortion, and at each threshold.

The thresholds are those of ISO/IEC 15415:2011 as second-hand texts quote them; those of fixed patterns are from memory.
"""

import math
from pathlib import Path

import pytest
from drawn_symbols import LINK, RULES, Drawing, known

from labeltool import tables
from labeltool.readback.grade import grade_image
from labeltool.readback.quality.codewords import Repair, by_codeword
from labeltool.readback.quality.damage import segment_grades, timing_grade
from labeltool.readback.quality.grading import overall
from labeltool.readback.quality.grid import grid, sample
from labeltool.readback.quality.model import Parameter
from labeltool.readback.quality.scale import graded, letter
from labeltool.symbol.anatomy import alignments, codewords, finders, formats, timings

SYMBOL = known()
CURVED = tables.toml("symbol", "curved")
WORDS = codewords(2)


def of(drawing, name):
    return drawing.grade().of(name)


def segments(drawing):
    picture = drawing.picture()
    sampled = sample(picture, grid(drawing.symbol.size, drawing.corners()), RULES.aperture, RULES.quiet)
    return segment_grades(drawing.symbol, sampled, RULES)


def test_a_perfect_picture_is_graded_4_throughout():
    found = Drawing().grade()
    assert (found.value, found.letter, found.limits, found.advice) == (4.0, "A", (), ())
    assert {item.grade for item in found.parameters} == {4.0} and len(found.parameters) == 8
    assert found.growth == pytest.approx((0, 0), abs=0.002)


@pytest.mark.parametrize(("light", "dark", "value", "grade"), [
    (179, 0, 0.702, 4.0), (178, 0, 0.698, 3.9), (255, 76, 0.702, 4.0), (255, 77, 0.698, 3.9),
    (160, 0, 0.627, 3.5), (159, 0, 0.6235, 3.4),
    (141, 0, 0.553, 3.0), (140, 0, 0.549, 2.9), (102, 0, 0.400, 2.0), (101, 0, 0.396, 1.9),
    (51, 0, 0.200, 1.0), (50, 0, 0.196, 0.0), (255, 205, 0.196, 0.0),
])
def test_symbol_contrast(light, dark, value, grade):
    found = Drawing(light=light, dark=dark).grade()
    assert found.of("symbol-contrast").value == pytest.approx(value, abs=0.001)
    assert (found.value, found.of("symbol-contrast").grade) == (grade, grade)
    assert found.limits == (("symbol-contrast",) if grade < 4 else ())
    assert found.of("modulation").grade == 4.0


def test_a_picture_of_nothing_is_graded_0():
    found = Drawing(light=90, dark=90).grade()
    assert (found.value, found.letter, found.limits) == (0.0, "F", ("symbol-contrast",))


def weak(count, value):
    """A picture with one weak module in each of `count` codewords, and those modules."""
    drawing = Drawing()
    cells = [next(cell for cell in word if not SYMBOL.dark(*cell)) for word in WORDS
             if any(not SYMBOL.dark(*cell) for cell in word)][:count]
    for cell in cells:
        drawing.put(cell, value)
    return drawing


@pytest.mark.parametrize(("light", "grade"), [
    (191.25, 4.0), (190, 3.9), (178.5, 3.0), (177, 2.8), (165.75, 2.0), (164, 1.8), (153, 1.0), (152, 0.0), (140, 0.0),
])
def test_modulation_where_more_codewords_are_weak_than_can_be_mended(light, grade):
    """MOD = 2 |R - 0.5| / 1: 191.25 of 255 is 0.50, 178.5 is 0.40 …; 2-M cannot mend seven weak codewords."""
    drawing = weak(7, math.ceil(light))
    found = drawing.grade()
    assert found.of("modulation").grade == found.of("reflectance-margin").grade == grade
    assert found.of("unused-error-correction").grade == 4.0
    assert found.limits == (("modulation",) if grade < 4 else ())


@pytest.mark.parametrize(("count", "grade"), [(1, 4.0), (3, 4.0), (4, 3.0), (5, 2.0), (6, 1.0), (7, 0.0)])
def test_weak_codewords_are_mended_as_far_as_the_level_bears(count, grade):
    """2-M: 1 - 2t/16 is 0.625 for 3, 0.5 for 4, 0.375 for 5, 0.25 for 6, 0.125 for 7 codewords lost."""
    assert of(weak(count, 140), "modulation").grade == grade


def test_modulation_of_the_worked_example():
    """2-M; worst modules at level 4: 38 codewords, 3: 3, 2: 2, 0: 1. The overlay gives 3, worked out by hand."""
    worst = [0.5] * 38 + [0.4] * 3 + [0.3] * 2 + [0.0]
    figures = (RULES.figures["modulation"], RULES.figures["unused-error-correction"])
    assert by_codeword(worst, Repair.of(SYMBOL, RULES), *figures) == 3.0


def test_a_module_of_the_wrong_colour_has_modulation_and_no_margin():
    found = Drawing().flip(*(word[0] for word in WORDS[:4])).grade()
    assert found.of("modulation").grade == 4.0
    assert found.of("reflectance-margin").grade == 3.0
    assert found.of("unused-error-correction").grade == 3.0
    assert found.limits == ("reflectance-margin", "unused-error-correction")
    assert len(found.advice) == 2


@pytest.mark.parametrize(("wrong", "value", "grade"), [
    (0, 1.0, 4), (1, 0.875, 4), (2, 0.75, 4), (3, 0.625, 4), (4, 0.5, 3), (5, 0.375, 2), (6, 0.25, 1), (7, 0.125, 0),
    (9, -0.125, 0),
])
def test_unused_error_correction_of_2_m(wrong, value, grade):
    found = of(Drawing().flip(*(word[3] for word in WORDS[:wrong])), "unused-error-correction")
    assert found.value == pytest.approx(value)
    assert int(found.grade) == grade


def test_codewords_kept_against_misreading_do_not_mend():
    """1-H has 17 correction codewords, one of which is kept: 1 - 2 * 4 / 16."""
    symbol = known("A1")
    assert (symbol.version, symbol.level) == (1, "H")
    found = of(Drawing(symbol).flip(*(word[0] for word in codewords(1)[:4])), "unused-error-correction")
    assert found.value == pytest.approx(0.5) and found.grade == 3.0


def test_unused_error_correction_is_the_worst_block_s():
    symbol = known("https://ottersholt.example/b/260503A31/and-a-longer-path-to-fill-it")
    assert len(symbol.blocks) > 1
    words = codewords(symbol.version)
    total, data = symbol.blocks[0]
    first = [word[0] for word in words[0:2 * len(symbol.blocks):len(symbol.blocks)]]  # two of the first block
    found = of(Drawing(symbol).flip(*first), "unused-error-correction")
    assert found.value == pytest.approx(1 - 2 * 2 / (total - data))


@pytest.mark.parametrize(("wrong", "grade"), [(0, 4.0), (1, 3.0), (2, 2.0), (3, 1.0), (4, 0.0), (9, 0.0)])
@pytest.mark.parametrize("corner", [0, 1, 2])
def test_wrong_modules_of_a_finder(corner, wrong, grade):
    cells = finders(2)[corner][40:40 + wrong]
    drawing = Drawing().flip(*cells)
    found = segments(drawing)
    assert found.pop(f"A{corner + 1}") == grade
    assert set(found.values()) == {4.0}
    fixed = of(drawing, "fixed-pattern-damage")
    assert (fixed.value, fixed.grade, fixed.confidence) == (wrong, grade, "memory")


def test_ink_in_the_quiet_zone_is_damage_to_the_finder_beside_it():
    assert segments(Drawing().put((-1, 3), 0).put((-2, 3), 0))["A1"] == 2.0


@pytest.mark.parametrize(("wrong", "grade"), [(0, 4.0), (1, 1.9), (2, 0.0)])
def test_wrong_modules_of_a_timing_line(wrong, grade):
    """Version 2 has 9 modules: one is 11.1 %, just past the figure of grade 2; two are 22 %."""
    for line in (0, 1):
        drawing = Drawing().flip(*timings(2)[line][2:2 + 4 * wrong:4])
        assert segments(drawing)[f"B{line + 1}"] == grade


@pytest.mark.parametrize(("wrong", "length", "grade"), [
    (7, 100, 3.0), (8, 100, 2.7), (11, 100, 2.0), (14, 100, 1.0), (15, 100, 0.0), (0, 100, 4.0),
])
def test_timing_by_its_share_of_wrong_modules(wrong, length, grade):
    spread = [index % (length // max(wrong, 1)) == 0 and index // (length // max(wrong, 1)) < wrong
              for index in range(length)]
    assert sum(spread) == wrong and timing_grade(spread, RULES) == grade


def test_three_wrong_of_five_neighbours_break_a_timing_line():
    line = [False] * 100
    line[50] = line[52] = True
    assert timing_grade(line, RULES) == 3.7
    line[54] = True
    assert timing_grade(line, RULES) == 0.0


@pytest.mark.parametrize(("wrong", "grade"), [(0, 4.0), (1, 3.6), (3, 2.8), (5, 2.0), (7, 1.2), (8, 0.0)])
def test_wrong_modules_of_the_alignment_pattern(wrong, grade):
    """One pattern of 25 in version 2: 4 % each; 10, 20 and 30 % are grades 3, 2 and 1."""
    found = segments(Drawing().flip(*alignments(2)[::3][:wrong]))
    assert found["C"] == grade


@pytest.mark.parametrize(("first", "second", "grade"), [
    (0, 0, 4.0), (1, 0, 3.5), (2, 2, 2.0), (5, 0, 2.0), (5, 5, 0.0),
])
def test_format_information(first, second, grade):
    cells = (*formats(2)[0][:first], *formats(2)[1][8:8 + second])
    assert of(Drawing().flip(*cells), "format-information").grade == grade


def test_a_symbol_without_alignment_pattern_has_no_such_segment():
    drawing = Drawing(known("A1"))
    assert set(segments(drawing)) == {"A1", "A2", "A3", "B1", "B2"} and drawing.grade().value == 4.0


def test_version_information_counts_from_version_7():
    symbol = known("https://ottersholt.example/" + "b/260503A31/" * 10)
    assert symbol.version >= 7
    size = symbol.size
    hit = Drawing(symbol, module=(8.0, 8.0)).flip(*((size - 11 + x, y) for x in range(3) for y in range(2)))
    assert of(Drawing(symbol, module=(8.0, 8.0)), "format-information").grade == 4.0
    assert of(hit, "format-information").grade == 2.0  # one copy of two is lost


@pytest.mark.parametrize(("x", "y", "value", "grade"), [
    (10.0, 10.0, 0.0, 4.0), (10.0, 10.6, 0.0583, 4.0), (10.0, 10.64, 0.0620, 3.9), (10.0, 10.7, 0.0676, 3.6),
    (10.0, 10.82, 0.0788, 3.0), (10.0, 10.84, 0.0806, 2.9), (10.0, 11.04, 0.0989, 2.0), (11.06, 10.0, 0.1007, 1.9),
    (11.26, 10.0, 0.1185, 1.0), (11.3, 10.0, 0.1221, 0.0),
])
def test_axial_non_uniformity(x, y, value, grade):
    drawing = Drawing(module=(x, y))
    found = of(drawing, "axial-non-uniformity")
    assert found.value == pytest.approx(value, abs=0.001)
    assert found.grade == pytest.approx(grade, abs=0.11)
    assert of(drawing, "grid-non-uniformity").grade == 4.0


def bent(amplitude, axis=0):
    drawing = Drawing()
    size = drawing.symbol.size

    def bow(at):
        return at + amplitude * math.sin(math.pi * min(max(at / size, 0), 1))

    drawing.bend = (bow, drawing.bend[1]) if axis == 0 else (drawing.bend[0], bow)
    return drawing


@pytest.mark.parametrize(("away", "least", "most"), [
    (0.0, 4.0, 4.0), (0.36, 4.0, 4.0), (0.40, 3.7, 3.9), (0.48, 3.0, 3.2), (0.52, 2.7, 2.9), (0.61, 2.0, 2.2),
    (0.65, 1.7, 1.9), (0.73, 1.0, 1.2), (0.78, 0.0, 0.0),
])
@pytest.mark.parametrize("axis", [0, 1])
def test_grid_non_uniformity(away, least, most, axis):
    found = of(bent(away, axis), "grid-non-uniformity")
    assert found.value == pytest.approx(away, abs=0.02)
    assert least <= found.grade <= most


def test_corners_that_are_somewhat_off_do_not_make_a_grid_uneven():
    drawing = Drawing()
    moved = [(x + dx, y + dy) for (x, y), (dx, dy) in
             zip(drawing.corners(), ((3, -2), (-3, 2), (2, 3), (-2, -3)), strict=True)]
    found = drawing.grade(moved)
    assert found.of("grid-non-uniformity").value < 0.05
    assert found.of("axial-non-uniformity").value < 0.005
    assert found.value == 4.0


@pytest.mark.parametrize("growth", [(0.0, 0.0), (0.2, 0.0), (0.1, 0.3), (-0.2, -0.1), (-0.3, 0.2)])
def test_print_growth_is_told_and_not_graded(growth):
    drawing = Drawing(module=(16.0, 16.0))
    drawing.growth = growth
    found = drawing.grade()
    assert found.growth == pytest.approx(growth, abs=0.012)
    assert "print-growth" not in {item.name for item in found.parameters}
    assert found.of("grid-non-uniformity").value < 0.02


def test_a_photo_is_made_straight_before_it_is_measured():
    picture = Drawing(light=188, dark=0).picture()  # sRGB 188 is half of the light
    args = (picture.pixels, picture.width, picture.height, Drawing().corners(), SYMBOL, RULES)
    assert grade_image(*args).of("symbol-contrast").value == pytest.approx(0.503, abs=0.003)
    assert grade_image(*args, camera=False).of("symbol-contrast").value == pytest.approx(188 / 255, abs=0.001)


def test_the_lowest_parameter_decides_and_all_at_it_are_named():
    def parameter(name, grade):
        return Parameter(name, 0.0, grade, "secondhand")

    grades = {"symbol-contrast": 2.1, "modulation": 3.0, "reflectance-margin": 2.1, "axial-non-uniformity": 2.1}
    found = overall(tuple(parameter(*item) for item in grades.items()), (0.0, 0.0), RULES)
    assert (found.value, found.letter) == (2.1, "C")
    assert found.limits == ("symbol-contrast", "reflectance-margin", "axial-non-uniformity")
    assert len(found.advice) == 3
    both = overall((parameter("modulation", 3.4), parameter("reflectance-margin", 3.4)), (0.0, 0.0), RULES)
    assert both.limits == ("modulation",)


@pytest.mark.parametrize(("grade", "name"), [
    (4.0, "A"), (3.5, "A"), (3.4, "B"), (2.5, "B"), (2.4, "C"), (1.5, "C"), (1.4, "D"), (0.5, "D"), (0.4, "F"),
])
def test_letters(grade, name):
    assert letter(grade, RULES.letters) == name


@pytest.mark.parametrize("name", ["symbol-contrast", "modulation", "axial-non-uniformity", "grid-non-uniformity",
                                  "unused-error-correction", "alignment_share", "timing_share", "finder_errors"])
def test_whole_grades_begin_at_their_figures(name):
    figures = RULES.figures[name]
    step = 1e-6 if figures[0] > figures[-1] else -1e-6
    for whole, figure in zip((4, 3, 2, 1), figures, strict=True):
        assert graded(figure, figures) == whole
        assert graded(figure - step, figures) == pytest.approx(whole - 0.1 if whole > 1 else 0.0)
        assert whole <= graded(figure + step, figures) <= min(4.0, whole + 0.1)


def test_the_link_is_the_one_the_examples_were_worked_out_for():
    assert (SYMBOL.version, SYMBOL.level, SYMBOL.blocks) == (2, "M", ((44, 28),)) and LINK.isupper() is True


@pytest.mark.parametrize("name", RULES.table)
def test_each_parameter_has_clause_source_confidence_and_advice(name):
    row = RULES.table[name]
    assert {"clause", "source", "confidence", "do"} <= set(row) and row["confidence"] in ("secondhand", "memory")


def test_the_page_on_verification_has_the_figures_of_the_table():
    page = (Path(__file__).parents[2] / "docs" / "verification.md").read_text(encoding="utf-8")
    for name in ("symbol-contrast", "modulation", "axial-non-uniformity", "grid-non-uniformity",
                 "unused-error-correction"):
        shown = name.replace("-", " ").replace("non ", "non-")
        row = next(line for line in page.splitlines() if line.startswith(f"| {shown}"))
        assert " / ".join(f"{figure:.2f}" for figure in RULES.figures[name]) in row
        assert RULES.confidence(name) in row
    assert all(f"| {key} | {share:.2f} |" in page for key, share in CURVED["shares"].items())
