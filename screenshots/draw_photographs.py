"""Draw the demo's photographs: `python -m screenshots.draw_photographs`. Invented, drawn, not taken."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter

FOLDER = Path(__file__).parent.parent / "demo" / "photographs"
SIZE = (800, 600)
BENCH, SHADOW, CASE, DARK, PALE = (
    (196, 168, 128),
    (150, 124, 90),
    (92, 98, 106),
    (34, 36, 40),
    (214, 218, 222),
)

Drawing = Callable[[ImageDraw.ImageDraw], None]


def draw_lid(on: ImageDraw.ImageDraw) -> None:
    """A closed lid with a scratch across its corner."""
    on.rounded_rectangle((90, 80, 710, 510), 28, fill=CASE, outline=DARK, width=4)
    on.rounded_rectangle((120, 110, 680, 480), 18, fill=(104, 110, 118))
    on.ellipse((372, 268, 428, 324), fill=PALE)
    on.line((520, 150, 655, 235), fill=(232, 232, 228), width=5)
    on.line((560, 148, 640, 200), fill=(214, 214, 210), width=3)


def draw_keyboard(on: ImageDraw.ImageDraw) -> None:
    """Keys, a few of them worn to a shine."""
    on.rounded_rectangle((60, 60, 740, 540), 22, fill=(70, 74, 80), outline=DARK, width=4)
    for row in range(5):
        for key in range(13):
            worn = (row, key) in ((2, 1), (2, 2), (2, 3), (3, 5))
            left, top = 84 + key * 49, 84 + row * 52
            on.rounded_rectangle((left, top, left + 42, top + 44), 6, fill=(120, 122, 126) if worn else DARK)
    on.rounded_rectangle((260, 360, 540, 512), 10, fill=(86, 90, 97), outline=DARK, width=3)


def draw_inside(on: ImageDraw.ImageDraw) -> None:
    """The cover off: battery, fan with dust, heat pipe, a drive."""
    on.rounded_rectangle((50, 50, 750, 550), 20, fill=(40, 62, 50), outline=DARK, width=5)
    on.rounded_rectangle((90, 350, 710, 520), 10, fill=DARK, outline=(90, 90, 90), width=3)
    for at in range(3):
        on.rectangle((110 + at * 200, 370, 290 + at * 200, 500), fill=(54, 56, 60))
    on.ellipse((90, 90, 280, 280), fill=(24, 24, 26), outline=(120, 120, 120), width=4)
    for at in range(6):
        on.pieslice((105, 105, 265, 265), at * 60, at * 60 + 32, fill=(150, 146, 136))
    on.line((270, 160, 520, 160), fill=(196, 112, 62), width=24)
    on.rectangle((500, 110, 600, 210), fill=(178, 182, 188))
    on.rectangle((430, 260, 700, 320), fill=(28, 92, 66), outline=PALE, width=2)


def draw_paste(on: ImageDraw.ImageDraw) -> None:
    """The chip with its paste dried out and cracked."""
    on.rectangle((0, 0, 800, 600), fill=(36, 84, 60))
    on.rectangle((200, 120, 600, 480), fill=(150, 154, 158), outline=DARK, width=5)
    on.rounded_rectangle((270, 190, 530, 410), 24, fill=(206, 206, 200))
    for line in (((280, 220), (400, 300), (380, 400)), ((400, 300), (520, 260)), ((330, 260), (300, 360))):
        on.line(line, fill=(120, 120, 116), width=6)


def draw_hinge(on: ImageDraw.ImageDraw) -> None:
    """A hinge with its cover cracked."""
    on.polygon(((80, 420), (720, 420), (700, 520), (100, 520)), fill=CASE)
    on.polygon(((120, 60), (680, 60), (720, 400), (80, 400)), fill=(60, 64, 70))
    on.rectangle((160, 90, 640, 370), fill=(20, 30, 44))
    on.rounded_rectangle((120, 390, 260, 440), 12, fill=DARK)
    on.line(((150, 396), (190, 420), (180, 440)), fill=PALE, width=5)


DRAWINGS: dict[str, Drawing] = {
    "lid.jpg": draw_lid,
    "keyboard.jpg": draw_keyboard,
    "inside.jpg": draw_inside,
    "paste-dry.jpg": draw_paste,
    "hinge.jpg": draw_hinge,
}


def draw_all(folder: Path = FOLDER) -> None:
    """Each picture, on a bench with a shadow, a little soft as a phone's are."""
    folder.mkdir(exist_ok=True)
    for name, drawing in DRAWINGS.items():
        picture = Image.new("RGB", SIZE, BENCH)
        on = ImageDraw.Draw(picture)
        for at in range(0, 600, 40):
            on.line((0, at, 800, at + 24), fill=SHADOW, width=2)
        drawing(on)
        picture.filter(ImageFilter.GaussianBlur(1.2)).save(folder / name, "JPEG", quality=60, optimize=True)


if __name__ == "__main__":
    draw_all()
