"""Pictures of the author's: upright, small, pixels alone, the same every time, and nothing from outside the folder."""

from __future__ import annotations

import hashlib
import os
import re
import struct
import subprocess
import sys
import zlib
from base64 import b64decode
from io import BytesIO
from pathlib import Path

import html5lib
import pytest
from msgspec.structs import replace
from PIL import Image, ImageCms, PngImagePlugin
from pypdf import PdfReader

from convert.cli import main
from convert.document.prose import Term
from convert.document.records import Brand, Document, Logo, Picture, TermSystem
from convert.exporters.html import HtmlOptions, write_html
from convert.exporters.jpeg import without_remarks
from convert.exporters.pdf.form import Look, PdfOptions, write_pdf
from convert.exporters.photos import COPY_SIDE, SIDE, Album, Unusable, album_of, copy_of, page_photo
from convert.limits import LIMITS
from tests.exporters.samples import GRADING, MERE, PROOF
from tests.exporters.test_html import CHECKER, run_checker

ROOT = Path(__file__).parent.parent.parent
SECRET = "Latitude 52.1, owner Ada Thornfell"


def picture(size: tuple[int, int] = (60, 40), form: str = "JPEG", mode: str = "RGB", **saved: object) -> bytes:
    """A picture whose left upper quarter is red, and whose other three are a field of all colours."""
    image = Image.new("RGB", size)
    image.putdata([((x * 7) % 256, (y * 5) % 256, (x + y) % 256) for y in range(size[1]) for x in range(size[0])])
    image.paste((255, 0, 0), (0, 0, size[0] // 2, size[1] // 2))
    room = BytesIO()
    image.convert(mode).save(room, form, **saved)
    return room.getvalue()


def opened(data: bytes) -> Image.Image:
    image = Image.open(BytesIO(data))
    image.load()
    return image


def exif(orientation: int = 1) -> Image.Exif:
    found = Image.Exif()
    found[0x0112] = orientation
    found[0x010E] = SECRET
    found.get_ifd(0x8825)[1] = "N"
    return found


@pytest.mark.parametrize("make", [page_photo, copy_of])
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_nothing_but_pixels_is_left(make, form):
    """Place, owner, comments and profile stay behind, whatever the format."""
    more: dict[str, object] = {
        "exif": exif(),
        "icc_profile": ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(),
    }
    if form == "PNG":
        more["pnginfo"] = PngImagePlugin.PngInfo()
        more["pnginfo"].add_text("Comment", SECRET)  # type: ignore[attr-defined]
    if form == "JPEG":
        more["comment"] = SECRET.encode()
    before = picture(form=form, **more)
    assert SECRET.encode() in before
    made = make(before)
    data = made if isinstance(made, bytes) else made.data
    after = opened(data)
    assert SECRET.encode() not in data
    assert {} == dict(after.getexif())
    assert set() == set(after.info) - {
        "jfif",
        "jfif_version",
        "jfif_unit",
        "jfif_density",
        "loop",
        "background",
        "duration",
        "timestamp",
    }


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_picture_is_turned_upright(orientation):
    """Every orientation of the standard (CIPA DC-008, tag 274); the red quarter tells."""
    photo = page_photo(picture(form="JPEG", quality=95, exif=exif(orientation)))
    assert ((60, 40) if orientation < 5 else (40, 60)) == (photo.width, photo.height)
    image = opened(photo.data).convert("RGB")
    corners = {
        (left, upper): image.getpixel((5 if left else photo.width - 6, 5 if upper else photo.height - 6))
        for left in (True, False)
        for upper in (True, False)
    }
    red = [place for place, (r, g, b) in corners.items() if r > 200 and g < 60 and b < 60]
    expected = {1: (True, True), 2: (False, True), 3: (False, False), 4: (True, False)}
    expected |= {5: (True, True), 6: (False, True), 7: (False, False), 8: (True, False)}
    assert [expected[orientation]] == red


@pytest.mark.timeout(60)  # it makes a picture of many megapixels
def test_a_picture_is_no_larger_than_it_is_shown():
    photo = page_photo(picture((3000, 1500)))
    assert (SIDE, SIDE // 2) == (photo.width, photo.height) == opened(photo.data).size
    small = page_photo(picture((60, 40)))
    assert (60, 40) == (small.width, small.height)
    assert COPY_SIDE == opened(copy_of(picture((3000, 1500)))).width


def test_a_copy_of_a_copy_is_the_same():
    """It keeps the quality that it has; one that has to be turned is saved anew, once."""
    for quality in (40, 95):
        before = picture((300, 200), quality=quality, exif=exif())
        after = copy_of(before)
        assert copy_of(after) == after
        assert opened(after).tobytes() == opened(before).tobytes()
    turned = copy_of(picture(exif=exif(6)))
    assert (40, 60) == opened(turned).size
    assert copy_of(turned) == turned


@pytest.mark.parametrize("progressive", [False, True])
@pytest.mark.parametrize("mode", ["RGB", "L", "CMYK"])
def test_remarks_go_and_pixels_stay(progressive, mode):
    """Also what follows the end of the picture, where cameras keep a second one."""
    before = picture((130, 90), mode=mode, progressive=progressive, exif=exif(), comment=SECRET.encode())
    after = without_remarks(before + before)
    assert SECRET.encode() not in after
    assert opened(before).tobytes() == opened(after).tobytes()
    assert after == without_remarks(after)


@pytest.mark.parametrize("data", [picture()[:-9], b"", b"\xff\xd8\xff\xe1\x00", b"\xff\xd8\xff\xe1\x00\x00" * 9])
def test_what_is_not_built_as_a_jpeg_is_not_taken_apart(data):
    assert b"" == without_remarks(data)


def test_formats():
    """A photo is a JPEG; a drawing in few colours, and what is seen through, a PNG."""
    assert "image/jpeg" == page_photo(picture()).kind
    assert "image/jpeg" == page_photo(picture((300, 200), "WEBP", quality=80)).kind
    assert "image/png" == page_photo(picture(form="PNG", mode="1")).kind
    clear = Image.new("RGBA", (40, 20), (10, 20, 30, 0))
    clear.paste((200, 0, 0, 255), (0, 0, 20, 20))
    for form in ("PNG", "WEBP"):
        room = BytesIO()
        clear.save(room, form)
        photo = page_photo(room.getvalue())
        assert "image/png" == photo.kind
        assert (0, 255) == opened(photo.data).convert("RGBA").getchannel("A").getextrema()
    assert ["JPEG", "PNG", "WEBP"] == [opened(copy_of(picture(form=form))).format for form in ("JPEG", "PNG", "WEBP")]


@pytest.mark.parametrize("mode", ["L", "CMYK", "1", "P", "I;16", "LA"])
def test_every_kind_of_pixels_is_shown(mode):
    form = "JPEG" if mode in ("L", "CMYK") else "PNG"
    image = Image.new("I;16", (8, 8), 65535) if mode == "I;16" else Image.new("RGB", (8, 8), "white").convert(mode)
    room = BytesIO()
    image.save(room, form)
    shown = opened(page_photo(room.getvalue()).data).convert("RGB").getpixel((4, 4))
    assert min(shown) > 250  # type: ignore[arg-type]


def test_colours_of_a_profile_become_those_of_pages():
    """Without its profile, a colour would look another: it is worked out anew."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    turned = profile.replace(b"rXYZ", b"----").replace(b"bXYZ", b"rXYZ").replace(b"----", b"bXYZ")
    assert profile != turned, "its red is blue"
    before = Image.new("RGB", (8, 8), (90, 160, 60))
    for form in ("PNG", "WEBP"):
        room = BytesIO()
        before.save(room, form, icc_profile=turned, **({"lossless": True} if form == "WEBP" else {}))
        red, green, blue = opened(page_photo(room.getvalue()).data).convert("RGB").getpixel((4, 4))  # type: ignore[misc]
        assert (True, True, True) == (abs(red - 60) < 6, abs(green - 160) < 6, abs(blue - 90) < 6)
    room = BytesIO()
    before.save(room, "PNG", icc_profile=b"no profile at all")
    assert (90, 160, 60) == opened(page_photo(room.getvalue()).data).convert("RGB").getpixel((4, 4))


def bomb(width: int, height: int) -> bytes:
    """A PNG that says it has so many pixels; its data are a few bytes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (bomb(60_000, 60_000), "pixels"),
        (bomb(100, 100), "damaged"),
        (picture()[:200], "damaged"),
        (b"", "no JPEG"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "no JPEG"),
        (b"GIF89a" + b"\0" * 40, "no JPEG"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n", "no JPEG"),
    ],
)
def test_what_is_no_sound_picture_is_told_and_left_out(data, reason):
    with pytest.raises(Unusable, match=reason):
        page_photo(data)
    document = replace(MERE, pictures=(Picture("a.jpg", ("A cap.",)),))
    album, (finding,) = album_of(document, {"a.jpg": data})
    assert (Album(), "picture-unusable") == (album, finding.code)


def test_too_many_pixels_are_refused_before_they_are_unpacked():
    side = int(LIMITS.picture_pixels**0.5) + 1
    with pytest.raises(Unusable, match="more than 50,000,000"):
        page_photo(bomb(side, side))


# ---- on the pages

CAP = Picture("cap.jpg", ("The cap in ", Term("dc"), ' & "more" <b>'), ("Worked in ", Term("dc"), "."), "Photo: A & T")
BRIM = Picture("brim.jpg", ("The brim.",), part="ear flap")
TOO = Picture("too.jpg", ("Another cap.",), part="nowhere")
SHOWN = replace(MERE, pictures=(BRIM, CAP, TOO), brand=Brand("Harbour Loops", Logo("logo.png")))
ALBUM, _ = album_of(
    SHOWN,
    {
        "cap.jpg": picture(),
        "brim.jpg": picture((40, 40)),
        "too.jpg": picture((20, 40)),
        "logo.png": picture((90, 30), "PNG", "1"),
    },
)


def figures(page) -> list[str]:
    return [img.get("alt") for img in page.iter("img")]


def test_each_picture_stands_in_its_place():
    """The logo in place of the name, one under the title, those of parts at their heads, the rest together."""
    text = write_html(SHOWN, GRADING, PROOF, HtmlOptions(TermSystem.UK, album=ALBUM, faces=False)).text
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    header, main = page.find("body/header"), page.find("body/main")
    assert ["Harbour Loops", 'The cap in tr & "more" <b>'] == figures(header)
    assert ["The brim.", "Another cap."] == figures(main)
    (flap,) = [s for s in main.iter("section") if "".join(s.find("h2").itertext()) == "Ear flap"]
    assert ["The brim."] == figures(flap)
    assert ["Worked in tr. Photo: A & T"] == ["".join(c.itertext()) for c in header.iter("figcaption")]
    assert "Harbour Loops" not in "".join(header.itertext())


def test_pictures_travel_inside_the_page():
    """Their content is in the page; the policy lets in pictures of that kind only where there are any."""
    text = write_html(SHOWN, GRADING, PROOF, HtmlOptions(album=ALBUM, faces=False)).text
    sources = re.findall(r'<img src="data:(image/(?:png|jpeg));base64,([^"]+)"', text)
    assert {photo.data for photo in ALBUM.all} == {b64decode(data) for _, data in sources}
    assert "font-src data:; img-src data:; base-uri" in text
    assert "img-src" not in write_html(SHOWN, GRADING, PROOF, HtmlOptions(faces=False)).text


@pytest.mark.slow
@pytest.mark.timeout(60)
@pytest.mark.skipif(not CHECKER.exists(), reason="the Nu HTML checker is not here; .ci/prepare --tools fetches it")
def test_the_nu_html_checker_finds_nothing_with_pictures(tmp_path):
    page = tmp_path / "page.html"
    page.write_text(write_html(SHOWN, GRADING, PROOF, HtmlOptions(album=ALBUM, both=True)).text, encoding="utf-8")
    said = [line for line in run_checker(page).stderr.splitlines() if " violates Content Security Policy" not in line]
    assert [] == said


def test_without_its_file_a_logo_leaves_the_name():
    assert '<p class="brand">Harbour Loops</p>' in write_html(SHOWN, GRADING, PROOF, HtmlOptions(faces=False)).text


@pytest.mark.slow
@pytest.mark.timeout(120)
@pytest.mark.parametrize("look", Look)
def test_pictures_in_the_pdf_have_their_words(look):
    """Tagged figures with alternative text, as an independent library reads them; the pictures are the same pixels."""
    written = write_pdf(SHOWN, GRADING, PROOF, PdfOptions(TermSystem.US, album=ALBUM, look=look))
    assert () == written.findings
    reader = PdfReader(BytesIO(written.data))
    found = [
        str(obj.get("/Alt")) for obj in map(reader.get_object, range(1, reader.trailer["/Size"])) if _is_figure(obj)
    ]
    assert ["Harbour Loops", 'The cap in dc & "more" <b>', "The brim.", "Another cap."] == found
    sizes = {image.image.size for page in reader.pages for image in page.images}
    assert {(photo.width, photo.height) for photo in ALBUM.all} == sizes


def _is_figure(obj: object) -> bool:
    return isinstance(obj, dict) and obj.get("/S") == "/Figure"


SCRIPT = """
import hashlib, sys
from tests.exporters.test_photos import *
html = write_html(SHOWN, GRADING, PROOF, HtmlOptions(album=ALBUM)).text.encode()
pdf = write_pdf(SHOWN, GRADING, PROOF, PdfOptions(album=ALBUM)).data
print(hashlib.sha256(html + pdf + copy_of(picture(form="WEBP"))).hexdigest())
"""


@pytest.mark.slow
@pytest.mark.timeout(120)
def test_the_same_bytes_every_time(tmp_path):
    found = set()
    for zone, seed in (("Pacific/Auckland", "1"), ("America/Bogota", "77")):
        environment = {**os.environ, "TZ": zone, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT], cwd=tmp_path, env=environment, capture_output=True, text=True, check=False
        )
        assert "" == run.stderr
        found.add(run.stdout.strip())
    assert 1 == len(found)
    assert 64 == len(found.pop())


# ---- from the folder

PATTERN = """\
title: Cap
terms: us
brand: {name: Harbour Loops, logo: {file: logo.png}}
pictures:
  - {file: NAME, alt: The cap.}
parts:
  - name: Cap
    rows:
      - "Rnd 1: 6 sc in adjustable ring. (6 sc)"
"""


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A folder with a pattern's folder in it and a picture outside of that."""
    (tmp_path / "cap/photos").mkdir(parents=True)
    (tmp_path / "private.jpg").write_bytes(picture())
    (tmp_path / "cap/photos/cap.jpg").write_bytes(picture(exif=exif(), quality=90))
    (tmp_path / "cap/logo.png").write_bytes(picture((90, 30), "PNG", "1"))
    return tmp_path


def write(shelf: Path, name: str) -> str:
    path = shelf / "cap/cap.pattern.yaml"
    path.write_text(PATTERN.replace("NAME", name), encoding="utf-8")
    return str(path)


@pytest.mark.parametrize(
    "name", ["../private.jpg", "photos/../../private.jpg", "LINK.jpg", "absent.jpg", "photos/.jpg", "folder.jpg"]
)
def test_nothing_outside_the_folder_is_read(shelf, name, capsys):
    """Told by `check` too; and no page is written without a picture that it should have."""
    (shelf / "cap/LINK.jpg").symlink_to(shelf / "private.jpg")
    (shelf / "cap/folder.jpg").mkdir()
    file = write(shelf, name)
    assert 1 == main(["check", file])
    assert "[picture-not-found]" in capsys.readouterr().out
    target = shelf / "cap.html"
    assert 1 == main(["convert", file, "-o", str(target)])
    assert not target.exists()
    capsys.readouterr()


@pytest.mark.parametrize("name", ["/etc/x.jpg", "C:/x.jpg", "a\\\\b.jpg", "cap.svg", "https://knit.example/a.jpg"])
def test_names_that_can_be_none_are_refused_by_the_schema(shelf, name, capsys):
    assert 1 == main(["check", write(shelf, f'"{name}"')])
    assert "JPEG, PNG or WebP file in the folder of the pattern" in capsys.readouterr().out


def test_a_file_that_is_no_picture_is_told_by_check(shelf, capsys):
    (shelf / "cap/fake.jpg").write_text("<script>alert(1)</script>", encoding="utf-8")
    assert 1 == main(["check", write(shelf, "fake.jpg")])
    assert "is not to be had: it is no JPEG, PNG or WebP picture." in capsys.readouterr().out


@pytest.mark.parametrize("form", ["md", "json", "pattern.yaml"])
def test_data_in_another_folder_take_their_pictures_along(shelf, form, capsys):
    """So that they can be read there; without what the camera wrote beside the pixels; and nothing is replaced."""
    out = shelf / "out"
    out.mkdir()
    assert 0 == main(["convert", write(shelf, "photos/cap.jpg"), "-o", str(out / f"cap.{form}")])
    assert 0 == main(["check", str(out / f"cap.{form}")])
    copied = out / "photos/cap.jpg"
    assert {} == dict(opened(copied.read_bytes()).getexif())
    assert (out / "logo.png").is_file()
    copied.write_bytes(b"mine")
    capsys.readouterr()
    assert 0 == main(["convert", write(shelf, "photos/cap.jpg"), "-o", str(out / f"cap.{form}")])
    assert "would take the place of another file" in capsys.readouterr().err
    assert b"mine" == copied.read_bytes()


def test_in_its_own_folder_a_pattern_s_pictures_are_left_alone(shelf, capsys):
    before = hashlib.sha256((shelf / "cap/photos/cap.jpg").read_bytes()).hexdigest()
    file = write(shelf, "photos/cap.jpg")
    assert 0 == main(["convert", file, "-o", str(shelf / "cap/cap.md")])
    assert 0 == main(["convert", file, "-o", str(shelf / "cap/cap.html"), "--data"])
    assert before == hashlib.sha256((shelf / "cap/photos/cap.jpg").read_bytes()).hexdigest()
    assert "" == capsys.readouterr().err


def test_a_page_with_data_beside_it_can_be_read_where_it_lies(shelf):
    out = shelf / "out"
    out.mkdir()
    assert 0 == main(["convert", write(shelf, "photos/cap.jpg"), "-o", str(out / "cap.html"), "--data"])
    assert 0 == main(["check", str(out / "cap.json")])


def test_a_pattern_from_standard_input_has_no_folder(monkeypatch, capsysbinary):
    text = PATTERN.replace("NAME", "cap.jpg").encode()
    monkeypatch.setattr("sys.stdin", type("In", (), {"buffer": BytesIO(text)})())
    assert 1 == main(["convert", "-", "--from", "yaml", "-o", "-", "--to", "html"])
    assert b"a pattern from standard input has no folder" in capsysbinary.readouterr().err


def test_pictures_in_the_body_of_a_text_are_pictures(shelf, capsys):
    """A paragraph that is nothing but a picture beside the text; others stay as they were typed."""
    (shelf / "cap/cap.md").write_text(
        '---\nterms: us\n---\n# Cap\n\n![The *cap*](photos/cap.jpg "In dc")\n\n![Far](https://knit.example/a.jpg)\n\n'
        "## Crown (make 2)\n\n![Its crown](<photos/cap.jpg>)\n\n- Rnd 1: 6 sc in adjustable ring. (6 sc)\n",
        encoding="utf-8",
    )
    assert 0 == main(["convert", str(shelf / "cap/cap.md"), "-o", "-", "--to", "yaml", "--terms", "uk"])
    out = capsys.readouterr().out
    assert "{file: photos/cap.jpg, alt: The cap, caption: In tr}" in out
    assert "{file: photos/cap.jpg, alt: Its crown, part: Crown}" in out
    assert 'summary: "![Far](https://knit.example/a.jpg)"' in out


def test_a_written_text_shows_its_pictures_and_reads_them_once(shelf, capsys):
    out = shelf / "out"
    out.mkdir()
    assert 0 == main(["convert", write(shelf, "photos/cap.jpg"), "-o", str(out / "cap.md")])
    text = (out / "cap.md").read_text(encoding="utf-8")
    assert "## Pictures\n\n![The cap.](photos/cap.jpg)\n" in text
    assert 0 == main(["convert", str(out / "cap.md"), "-o", "-", "--to", "json"])
    assert 1 == capsys.readouterr().out.count('"photos/cap.jpg"')


def test_a_document_without_pictures_loads_no_image_library():
    code = (
        "import sys; from tests.exporters.samples import *; from convert.exporters.html import *;"
        "write_html(MERE, GRADING, PROOF); print('PIL' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "False" == run.stdout.strip()


def test_a_check_looks_at_pictures_without_the_image_library(shelf):
    """It tells a file that is not there from one that is, and stays as fast as it was."""
    code = (
        "import sys; from convert.cli import main;"
        "status = main(['check', sys.argv[1]]); print(status, 'PIL' in sys.modules, file=sys.stderr)"
    )
    for name, status in (("photos/cap.jpg", 0), ("photos/no.jpg", 1)):
        command = [sys.executable, "-c", code, write(shelf, name)]
        run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
        assert f"{status} False" == run.stderr.strip()


def test_an_album_of_a_document_without_pictures_is_empty():
    assert (Album(), ()) == album_of(Document("Cap", "cap", TermSystem.US), {})
