"""Pictures: read by Pillow; at the dots per inch that they name they are as large as their paper."""

from PIL import Image

from common import FOLDER, close

# Letter (ANSI/ASME Y14.1) and A4 (ISO 216), inches, either way round
PAPERS = [(8.5, 11.0), (210 / 25.4, 297 / 25.4)]

found = sorted(FOLDER.glob("*.png"))
assert found
for path in found:
    with Image.open(path) as picture:
        picture.load()
        wide, high = (size / dots for size, dots in zip(picture.size, picture.info["dpi"]))
        paper = min(PAPERS, key=lambda paper: abs(paper[0] - min(wide, high)))
        # half a dot at each edge, and a resolution in whole dots to the meter
        for size, good in zip(sorted((wide, high)), paper):
            close(size, good, absolute=1 / picture.info["dpi"][0], what=f"{path.name}, inches")
        print(f"{path.name}: {wide:.3f} x {high:.3f} in at {picture.info['dpi'][0]:.2f} dots per inch")
