"""How the demo's picture of a bad weld was computed: python setup/bad_weld_picture.py procedures/bad-weld.jpg

No camera and no real part: a surface of heights with a bead, pores, an undercut, a crack and a cold lap, lit from one side.
Needs numpy and Pillow. Nothing else runs it; the picture lies beside its procedure.
"""

import sys
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont

WIDE, HIGH, PIXEL_MM = 1600, 1000, 0.1
FONT = Path(__file__).parent.parent / "generator/fettlebook/handout/fonts/SourceSans3-Bold.ttf"
LAMP = np.array([-0.62, -0.45, 0.5]) / np.linalg.norm([-0.62, -0.45, 0.5])
FAULTS = (("A", -50, 0, 13, 11, -1), ("B", -14, -8, 16, 7, -1), ("C", 20, 0, 17, 8, -1), ("D", 55, 10, 15, 13, 1))
"""Letter, middle and half axes of the chalk ring [mm], and whether the letter stands above it (-1) or below (1)."""


def blurred(values, radius):
    low, high = float(values.min()), float(values.max())
    picture = Image.fromarray(np.uint8(255 * (values - low) / (high - low or 1)))
    soft = np.asarray(picture.filter(ImageFilter.GaussianBlur(radius)), float) / 255
    return soft * (high - low) + low


def surface(rng):
    """Heights [mm] over a plate of 160 by 100 mm, and where the bead and the lump lie."""
    x, y = np.meshgrid((np.arange(WIDE) - WIDE / 2) * PIXEL_MM, (np.arange(HIGH) - HIGH / 2) * PIXEL_MM)
    wander = np.interp(x[0], np.linspace(-80, 80, 33), rng.normal(0, 0.45, 33))
    half = 7 + np.interp(x[0], np.linspace(-80, 80, 49), rng.normal(0, 0.35, 49))
    across = (y - wander) / half
    inside = np.clip(1 - across**2, 0, None)
    phase = x + (y - wander) ** 2 / 11 + np.interp(x[0], np.linspace(-80, 80, 60), rng.normal(0, 0.5, 60))
    ripple = np.abs(np.sin(np.pi * phase / 2.3)) ** 0.7
    z = 2.3 * inside**0.75 + 0.22 * ripple * (inside > 0) * inside**0.3
    z += 0.05 * blurred(rng.normal(0, 1, z.shape), 3) * (inside > 0)
    z += 0.006 * np.repeat(rng.normal(0, 1, (HIGH, 1)), WIDE, 1) * (inside == 0)
    for _ in range(17):  # A: pores
        a, b, r = -50 + rng.uniform(-9, 9), rng.uniform(-4.6, 4.6), rng.uniform(0.35, 1.15)
        d2 = (x - a) ** 2 + (y - b) ** 2
        z -= 1.9 * np.sqrt(np.clip(r * r - d2, 0, None))
    window = np.clip(1 - ((x + 14) / 13) ** 4, 0, 1)  # B: undercut along the upper edge
    z -= 1.5 * window * np.exp(-(((wander - y) - half - 0.1) ** 2) / 0.42)
    path = np.interp(x[0], np.linspace(5, 36, 22), np.cumsum(rng.normal(0, 0.28, 22)) * 0.6)
    open_mm = 0.16 * np.clip(1 - ((x - 20) / 14) ** 2, 0, None) ** 0.5  # C: crack along the middle
    z -= 2.4 * np.exp(-((y - wander - path) ** 2) / (open_mm**2 + 1e-6)) * (open_mm > 0.02)
    lump = ((x - 55) / 10.5) ** 2 + ((y - 10.5) / 7.5) ** 2
    lump += 0.1 * np.clip(lump, 0, 2) * np.sin(5 * np.arctan2(y - 10.5, x - 55))
    over = 2.9 * np.clip(1 - lump, 0, None) ** 0.3  # D: metal that ran over the plate and never fused
    seam = np.exp(-((lump - 1.03) ** 2) / 0.0022) * (y > half + wander - 1)
    z = np.where(over > 0, np.maximum(z, over), z) - 0.5 * seam
    for _ in range(34):  # spatter
        a, b, r = rng.uniform(-78, 78), rng.choice([-1, 1]) * rng.uniform(11, 44), rng.uniform(0.25, 0.8)
        ball = np.sqrt(np.clip(r * r - (x - a) ** 2 - (y - b) ** 2, 0, None)) * 1.1
        z = np.where(ball > 0, np.maximum(z, ball), z)
    return z, x, y, inside, lump


def lit(z):
    """(diffuse light, gloss, shade of hollows) of the surface under the lamp."""
    up, right = np.gradient(z, PIXEL_MM)
    normal = np.dstack([-right, -up, np.ones_like(z)])
    normal /= np.linalg.norm(normal, axis=2, keepdims=True)
    shadow = np.zeros_like(z)
    for n in range(1, 46):
        dx, dy = round(LAMP[0] / np.hypot(*LAMP[:2]) * n * 1.4), round(LAMP[1] / np.hypot(*LAMP[:2]) * n * 1.4)
        higher = np.roll(z, (-dy, -dx), (0, 1)) - z - n * 1.4 * PIXEL_MM * LAMP[2] / np.hypot(*LAMP[:2])
        shadow = np.maximum(shadow, np.clip(higher * 3, 0, 1))
    diffuse = np.clip(normal @ LAMP, 0, 1) * (1 - 0.85 * blurred(shadow, 1.2))
    half = (LAMP + [0, 0, 1]) / np.linalg.norm(LAMP + [0, 0, 1])
    gloss = np.clip(normal @ half, 0, 1) ** 34 * (1 - shadow)
    hollow = np.clip(
        1 - 0.55 * np.clip(blurred(z, 14) - z, 0, None) - 0.5 * np.clip(blurred(z, 4) - z, 0, None), 0.12, 1
    )
    return diffuse, gloss, hollow


def coloured(z, x, y, inside, lump, rng):
    """The picture as floats from 0 to 1: ground plate with its heat tint, bead and lump greyer."""
    diffuse, gloss, hollow = lit(z)
    plate = np.array([0.66, 0.66, 0.65]) * np.ones((*z.shape, 1))
    away = np.clip(np.abs(y) - 7, 0, None)[..., None] + 0.6 * blurred(rng.normal(0, 1, z.shape), 25)[..., None]
    for at, wide, tint in (
        (1.5, 2.2, (0.42, 0.44, 0.5)),
        (5, 2.4, (0.38, 0.42, 0.6)),
        (8.5, 2, (0.55, 0.4, 0.5)),
        (12, 3.2, (0.7, 0.57, 0.38)),
    ):
        share = 0.62 * np.exp(-(((away - at) / wide) ** 2))
        plate = plate * (1 - share) + np.array(tint) * share
    metal = np.array([0.5, 0.485, 0.465]) * np.ones((*z.shape, 1))
    soft = np.clip(blurred(((inside > 0.02) | (lump < 1)).astype(float), 1.5), 0, 1)[..., None]
    base = plate * (1 - soft) + metal * soft
    grain = (
        1
        + 0.05 * blurred(rng.normal(0, 1, z.shape), 0.8)[..., None]
        + 0.035 * np.repeat(rng.normal(0, 1, (HIGH, 1)), WIDE, 1)[..., None] * (1 - soft)
    )
    light = (0.34 + 1.05 * diffuse)[..., None] * hollow[..., None]
    return base * grain * light + 0.5 * gloss[..., None] * np.array([1, 0.98, 0.93])


def chalked(picture, rng):
    """Rings and letters in chalk, broken up by the roughness of the plate."""
    mask = Image.new("L", (WIDE, HIGH))
    pen, font = ImageDraw.Draw(mask), ImageFont.truetype(str(FONT), 74)
    for letter, a, b, across, down, side in FAULTS:
        u, v = WIDE / 2 + a / PIXEL_MM, HIGH / 2 + b / PIXEL_MM
        pen.ellipse((u - across * 10, v - down * 10, u + across * 10, v + down * 10), outline=255, width=9)
        pen.text((u - across * 10 - 6, v + side * down * 10 - (64 if side < 0 else 30)), letter, 255, font)
    rough = np.clip(0.72 + 0.5 * blurred(rng.normal(0, 1, (HIGH, WIDE)), 1), 0, 1)
    share = np.asarray(mask.filter(ImageFilter.GaussianBlur(1.6)), float)[..., None] / 255 * rough[..., None]
    return picture * (1 - share) + np.array([0.97, 0.97, 0.94]) * share


def main(target):
    rng = np.random.default_rng(11)
    z, x, y, inside, lump = surface(rng)
    picture = chalked(coloured(z, x, y, inside, lump, rng), rng)
    edge = 1 - 0.3 * ((x / 80) ** 2 + (y / 50) ** 2) ** 1.3 / 2
    picture = np.clip(picture * edge[..., None], 0, 1) ** 0.9 + rng.normal(0, 0.012, picture.shape)
    Image.fromarray(np.uint8(255 * np.clip(picture, 0, 1))).save(target, "JPEG", quality=84, optimize=True)


if __name__ == "__main__":
    main(sys.argv[1])
