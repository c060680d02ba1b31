"""Mutations of whole labels, of pages, and of what lies over them or beside them in the file."""

from __future__ import annotations

import pikepdf
from tampering import (
    annotate,
    box,
    change_place,
    label_size,
    layer,
    paint,
    picture,
    places,
    put,
    resource,
)


def a_label_left_out(pdf):
    change_place(pdf, 1, lambda placed: b"")


def a_label_moved(pdf):
    change_place(pdf, 1, lambda placed: b"q 1 0 0 1 1.2 0 cm " + placed + b" Q")


def a_label_moved_a_sixth_of_a_millimetre(pdf):
    change_place(pdf, 2, lambda placed: b"q 1 0 0 1 0 0.5 cm " + placed + b" Q")


def a_label_drawn_twice_not_quite_at_its_place(pdf):
    change_place(pdf, 1, lambda placed: placed + b" q 1 0 0 1 0.5 0.3 cm " + placed + b" Q")


def a_label_smaller(pdf):
    left, low, _ = places(pdf)[1]
    shift = f"0.98 0 0 0.98 {left * 0.02:.4f} {low * 0.02:.4f}".encode()
    change_place(pdf, 1, lambda placed: b"q " + shift + b" cm " + placed + b" Q")


def a_label_upside_down(pdf):
    left, low, _ = places(pdf)[1]
    width, height = label_size(pdf)
    turn = f"-1 0 0 -1 {2 * left + width:.4f} {2 * low + height:.4f}".encode()
    change_place(pdf, 1, lambda placed: b"q " + turn + b" cm " + placed + b" Q")


def a_label_mirrored(pdf):
    left, _, _ = places(pdf)[1]
    turn = f"-1 0 0 1 {2 * left + label_size(pdf)[0]:.4f} 0".encode()
    change_place(pdf, 1, lambda placed: b"q " + turn + b" cm " + placed + b" Q")


def a_label_of_the_other_batch_in_its_place(pdf):
    change_place(pdf, 1, lambda placed: placed.replace(b"/L0", b"/L1"))


def two_labels_of_two_batches_changed_about(pdf):
    change_place(pdf, 0, lambda placed: placed.replace(b"/L0", b"/L1"))
    change_place(pdf, 5, lambda placed: placed.replace(b"/L1", b"/L0"))


def a_label_more(pdf):
    left, low, _ = places(pdf)[1]
    _, top, _ = places(pdf)[0]
    assert top > low
    paint(pdf, f"1 0 0 1 {left:.4f} {top:.4f} cm /L0 Do")


def ink_between_the_labels(pdf):
    paint(pdf, f"0 g {box(295, 400, 2, 1)} f")


def a_line_along_the_label_edges(pdf):
    left, low, _ = places(pdf)[0]
    paint(pdf, f"0.2 w {box(left, low, *label_size(pdf))} S")


def ink_nearer_to_the_edge_than_the_safe_margin(pdf):
    left, low, _ = places(pdf)[0]
    paint(pdf, f"0 g {box(left + 1, low + 1, 1.5, 1.5)} f")


def a_pale_word_across_a_label(pdf):
    left, low, _ = places(pdf)[0]
    resource(pdf, "/Font", "/FX", pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica))
    paint(pdf, f"0.88 g BT /FX 60 Tf {left + 20:.2f} {low + 60:.2f} Td (void) Tj ET", first=True)


def a_pale_picture_behind_a_label(pdf):
    left, low, _ = places(pdf)[0]
    resource(pdf, "/XObject", "/Im0", picture(pdf, bytes([225]) * 64, 8, 8))
    paint(pdf, f"80 0 0 80 {left + 20:.2f} {low + 20:.2f} cm /Im0 Do", first=True)


def a_white_picture_over_a_label(pdf):
    left, low, _ = places(pdf)[0]
    resource(pdf, "/XObject", "/Im0", picture(pdf, bytes([255]) * 64, 8, 8))
    paint(pdf, f"80 0 0 80 {left + 20:.2f} {low + 20:.2f} cm /Im0 Do")


def a_shading_over_a_label(pdf):
    left, low, _ = places(pdf)[0]
    function = pikepdf.Dictionary(FunctionType=2, Domain=[0, 1], C0=[1], C1=[0.3], N=1)
    resource(pdf, "/Shading", "/S0", pikepdf.Dictionary(
        ShadingType=2, ColorSpace=pikepdf.Name.DeviceGray, Coords=[left, low, left + 150, low], Function=function))
    paint(pdf, f"{box(left, low, 150, 100)} W n /S0 sh", first=True)


def words_added_between_the_labels(pdf):
    resource(pdf, "/Font", "/FX", pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica))
    paint(pdf, "BT /FX 6 Tf 100 830 Td (Page 1) Tj ET")


def invisible_words_added(pdf):
    resource(pdf, "/Font", "/FX", pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica))
    left, low, _ = places(pdf)[0]
    paint(pdf, f"BT 3 Tr /FX 6 Tf {left + 20:.2f} {low + 20:.2f} Td (batch 99) Tj ET")


def a_page_of_another_size(pdf):
    pdf.pages[0].MediaBox = pikepdf.Array([0, 0, 612, 792])


def a_page_turned_a_quarter(pdf):
    pdf.pages[0].Rotate = 90


def a_page_turned_round(pdf):
    pdf.pages[0].Rotate = 180


def a_page_cropped(pdf):
    pdf.pages[0].CropBox = pikepdf.Array([0, 0, 595.28, 700])


def a_page_cropped_by_a_hair_on_all_sides(pdf):
    pdf.pages[0].CropBox = pikepdf.Array([4, 4, 591.28, 837.89])


def a_page_moved_in_its_sheet(pdf):
    pdf.pages[0].MediaBox = pikepdf.Array([3, 3, 598.2756, 844.8898])


def a_page_in_larger_units(pdf):
    pdf.pages[0].UserUnit = 1.03


def a_page_scaled(pdf):
    paint_all(pdf, "0.97 0 0 0.97 8 12 cm")


def a_page_scaled_by_half_a_percent(pdf):
    paint_all(pdf, "0.995 0 0 0.995 1.5 2 cm")


def a_page_stretched(pdf):
    paint_all(pdf, "1.005 0 0 1 -1.5 0 cm")


def paint_all(pdf: pikepdf.Pdf, operators: str) -> None:
    """The whole first page under an operator."""
    stream = pdf.pages[0].Contents
    put(stream, f"q {operators}\n".encode() + stream.read_bytes() + b"\nQ\n")


def a_page_twice(pdf):
    pdf.pages.append(pdf.pages[0])


def an_empty_page_behind(pdf):
    pdf.add_blank_page(page_size=(595.28, 841.89))


def an_empty_page_before(pdf):
    pdf.add_blank_page(page_size=(595.28, 841.89))
    pdf.pages.insert(0, pdf.pages[1])
    del pdf.pages[2]


def scaling_left_to_the_printer(pdf):
    pdf.Root.ViewerPreferences.PrintScaling = pikepdf.Name.AppDefault


def no_word_about_scaling(pdf):
    del pdf.Root["/ViewerPreferences"]


def several_copies_asked_for(pdf):
    pdf.Root.ViewerPreferences.NumCopies = 3


def a_part_of_the_pages_asked_for(pdf):
    pdf.Root.ViewerPreferences.PrintPageRange = pikepdf.Array([1, 1])


def a_black_square_as_a_note(pdf):
    left, low, _ = places(pdf)[0]
    annotate(pdf, "/Square", "0 g 0 0 20 20 re f", (left + 30, low + 30, left + 50, low + 50))


def a_white_square_as_a_note(pdf):
    left, low, _ = places(pdf)[0]
    annotate(pdf, "/Square", "1 g 0 0 40 30 re f", (left + 20, low + 60, left + 60, low + 90))


def a_stamp_that_shows_only_on_paper(pdf):
    left, low, _ = places(pdf)[0]
    annotate(pdf, "/Stamp", "0 g 0 0 20 20 re f", (left + 30, low + 30, left + 50, low + 50))
    pdf.pages[0].Annots[0].F = 4 + 32


def a_note_without_a_look(pdf):
    left, low, _ = places(pdf)[0]
    note = pikepdf.Dictionary(Type=pikepdf.Name.Annot, Subtype=pikepdf.Name.FreeText, Contents="Expired",
                              Rect=[left + 20, low + 20, left + 90, low + 40], DA="/Helv 12 Tf 0 g", F=4)
    pdf.pages[0].Annots = pikepdf.Array([pdf.make_indirect(note)])


def a_field_to_fill_in(pdf):
    left, low, _ = places(pdf)[0]
    annotate(pdf, "/Widget", "0 g 0 0 20 20 re f", (left + 30, low + 30, left + 50, low + 50),
             FT=pikepdf.Name.Tx, T="more", V="12")
    pdf.Root.AcroForm = pikepdf.Dictionary(Fields=[pdf.pages[0].Annots[0]])


def a_layer_that_only_prints(pdf):
    left, low, _ = places(pdf)[0]
    layer(pdf, f"0 g {box(left + 30, low + 30, 20, 20)} f", viewed=False, printed=True)


def a_white_layer_that_only_prints(pdf):
    left, low, _ = places(pdf)[0]
    layer(pdf, f"1 g {box(left + 10, low + 60, 60, 30)} f", viewed=False, printed=True)


def a_layer_that_only_shows(pdf):
    left, low, _ = places(pdf)[0]
    layer(pdf, f"0 g {box(left + 30, low + 30, 20, 20)} f", viewed=True, printed=False)


def a_program_run_when_opened(pdf):
    pdf.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="this.print();")


def a_file_inside_the_file(pdf):
    pdf.attachments["more.txt"] = b"more"


def tones_turned_about_on_paper(pdf):
    """A transfer function: screens show black, a printer is told white."""
    function = pdf.make_indirect(pikepdf.Dictionary(FunctionType=2, Domain=[0, 1], C0=[1], C1=[0], N=1))
    resource(pdf, "/ExtGState", "/G0", pikepdf.Dictionary(Type=pikepdf.Name.ExtGState, TR=function))
    stream = pdf.pages[0].Contents
    put(stream, b"/G0 gs\n" + stream.read_bytes())
