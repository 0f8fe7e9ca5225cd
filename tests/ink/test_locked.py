"""Locked files: closed to who lacks the password, whatever program reads them, and the same sheets to who has it."""

from __future__ import annotations

import io

import pypdfium2
import pytest
from pypdf import PasswordType, PdfReader

from sheetgen.ink import Document, Page, Password, PasswordError, Text, password_in, password_of, write_pdf, writer_of

PASSWORD = password_of("four plain words here", "a test")
PAGES = [Page(420, 297, [Text(f"SECRET {number}", (100, 100 + number), 5)]) for number in range(3)]
DOCUMENT = Document(PAGES, "Worksheet: answers", "en-GB", "T. SQUARE", outline=(("Third", 2),), set_mark="0123456789ab")


def written(password: Password | None = PASSWORD) -> bytes:
    out = io.BytesIO()
    writer_of(DOCUMENT, password)(out)
    return out.getvalue()


def test_without_a_password_the_file_is_what_it_always_was():
    out = io.BytesIO()
    write_pdf(DOCUMENT, out)
    assert written(None) == out.getvalue()


def test_a_locked_file_cannot_be_opened_without_the_password_and_can_with_it():
    data = written()
    reader = PdfReader(io.BytesIO(data))
    assert reader.is_encrypted
    assert reader.decrypt("four plain words") is PasswordType.NOT_DECRYPTED
    assert reader.decrypt("four plain words here") is not PasswordType.NOT_DECRYPTED
    assert [page.extract_text() for page in reader.pages] == ["SECRET 0", "SECRET 1", "SECRET 2"]


def test_another_reader_finds_the_same(tmp_path):
    # PDFium, which has its own reading of ISO 32000-2
    (tmp_path / "locked.pdf").write_bytes(written())
    for wrong in (None, "", "four plain words"):
        with pytest.raises(pypdfium2.PdfiumError, match=r"[Pp]assword"):
            pypdfium2.PdfDocument(tmp_path / "locked.pdf", password=wrong)
    locked = pypdfium2.PdfDocument(tmp_path / "locked.pdf", password=PASSWORD.text)
    plain = pypdfium2.PdfDocument(written(None))
    assert len(locked) == 3
    for one, other in zip(locked, plain, strict=True):
        assert one.render(scale=1).to_numpy().tobytes() == other.render(scale=1).to_numpy().tobytes()


def test_it_is_aes_of_256_bits_of_pdf_2():
    # ISO 32000-2:2020, 7.6.4: V 5, R 6, AESV3, keys of 256 bits (from memory)
    reader = PdfReader(io.BytesIO(written()))
    entry = reader.trailer["/Encrypt"].get_object()
    assert (entry["/V"], entry["/R"], entry["/CF"]["/StdCF"]["/CFM"]) == (5, 6, "/AESV3")
    assert reader.pdf_header == "%PDF-2.0"


def test_nothing_of_what_the_file_says_stands_in_it_in_plain_letters():
    data = written()
    for said in (b"answers", b"SQUARE", b"0123456789ab", b"Third", b"four plain"):
        assert said in written(None) or said == b"four plain"
        assert said not in data


def test_title_bookmarks_language_and_how_it_is_printed_come_through():
    reader = PdfReader(io.BytesIO(written()))
    reader.decrypt(PASSWORD.text)
    assert reader.metadata.title == "Worksheet: answers" and reader.metadata.creator == "sheetgen, set 0123456789ab"
    assert [(entry.title, reader.get_destination_page_number(entry)) for entry in reader.outline] == [("Third", 2)]
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en-GB" and root["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_a_password_is_never_shown():
    assert "four" not in repr(PASSWORD) and "four" not in str(PASSWORD)


@pytest.mark.parametrize(("text", "found"), [
    ("short", "a password of 5 characters"), ("", "a password of 0 characters"), ("x" * 128, "a password of 128 characters"),
    ("Prüfung 2031", "a password with other signs"), ("tab\there it is", "a password with other signs"),
    (" five plain words", "a blank at its beginning or end"), ("five plain words ", "a blank at its beginning or end")])
def test_passwords_that_some_reader_would_not_take_are_refused_and_not_repeated(text, found):
    with pytest.raises(PasswordError, match=f"the password: found {found}|the password: found a password with {found}") as caught:
        password_of(text, "the password")
    assert not text.strip() or text.strip() not in str(caught.value)


@pytest.mark.parametrize("contents", [
    b"four plain words here", b"four plain words here\n", b"\xef\xbb\xbffour plain words here\r\n"])
def test_the_password_is_the_only_line_of_its_file_however_an_editor_ends_it(tmp_path, contents):
    (tmp_path / "word.txt").write_bytes(contents)
    assert password_in(tmp_path / "word.txt") == PASSWORD


@pytest.mark.parametrize(("contents", "found"), [
    (b"", "0 lines"), (b"four words\nand more\n", "2 lines"), (b"\xff\xfe\x00four words", "a file that is no text"),
    (b"x" * 2000, "a file of more than 1 kB")])
def test_a_file_that_holds_something_else_is_told(tmp_path, contents, found):
    (tmp_path / "word.txt").write_bytes(contents)
    with pytest.raises(PasswordError, match=f"word.txt: found {found}"):
        password_in(tmp_path / "word.txt")


def test_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(PasswordError, match="found no such file"):
        password_in(tmp_path / "none.txt")
