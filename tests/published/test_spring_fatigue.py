"""Basquin, Miner, Wahl, Goodman and the infinite-life points of coil springs."""

import numpy as np
import pytest

from calmshaft.judgement import fatigue
from published_rows import Tolerance

FORMULA = Tolerance(1e-9, "rounding of the printed digits")
PRINTED = Tolerance(0.005, "printed to three digits")
MINER_PAGE = "page of a Miner rule simulator, inputs and formula seen; the numbers are ours"
WAHL = "Wahl's factor as seen in pages on compression springs under fatigue; closed form"
EXAMPLE = "worked example of a page on spring fatigue, d 2 mm, D 16 mm, 20 to 80 N: stresses seen"


def test_basquin_lives_and_miners_sum(compare):
    lives = fatigue.basquin_life([250.0, 200.0], 1000.0, -0.1)
    compare("Basquin life at 250 MPa", lives[0], 524288, FORMULA, MINER_PAGE)
    compare("Basquin life at 200 MPa", lives[1], 4882812.5, FORMULA, MINER_PAGE)
    compare(
        "Miner's sum of two blocks", fatigue.miner_sum([5000, 10000], lives), 0.0115847431640625, FORMULA, MINER_PAGE
    )


def test_the_order_of_blocks_does_not_matter(compare):
    counts, lives = np.array([5.0, 7.0, 11.0]), np.array([100.0, 300.0, 900.0])
    sums = fatigue.miner_sum(counts, lives), fatigue.miner_sum(counts[::-1], lives[::-1])
    compare("Miner's sum, reversed order", sums[0], sums[1], Tolerance(1e-15, "rounding"), "Miner's rule, definition")


@pytest.mark.parametrize(
    ("index", "factor"), [(4, 1.40375), (5, 1.3105), (6, 1.2525), (8, 1.184017857), (12, 1.119431818)]
)
def test_wahl_factors(compare, index, factor):
    compare(f"Wahl factor at C = {index}", fatigue.wahl_factor(index), factor, FORMULA, WAHL)


def test_a_spring_between_two_forces(compare):
    low, high = fatigue.spring_shear_stress([20.0, 80.0], 0.002, 0.016)
    amplitude, mean = (high - low) / 2, (high + low) / 2
    compare("spring stress amplitude [MPa]", amplitude / 1e6, 181, PRINTED, EXAMPLE)
    compare("spring stress mean [MPa]", mean / 1e6, 302, PRINTED, EXAMPLE)
    steel = fatigue.spring_steel(2000e6)
    compare("Goodman amplitude at no mean [MPa]", steel.reversed_amplitude / 1e6, 336.0458, 1e-6, EXAMPLE + "; ours")
    compare("safety against infinite life", steel.safety(amplitude, mean), 1.310034, 1e-6, EXAMPLE + "; ours")


def test_a_textbook_spring_against_goodman(compare):
    # d 0.092 in, outside 9/16 in, 5 to 35 lbf, unpeened music wire, S_ut 284.1 kpsi
    inch, pound, kpsi = 0.0254, 4.4482216152605, 6.894757293168e6
    stress = fatigue.spring_shear_stress(np.array([5.0, 35.0]) * pound, 0.092 * inch, (9 / 16 - 0.092) * inch)
    source = "Shigley, Mechanical Engineering Design, example 10-4, from memory"
    # the book takes Bergstraesser's curvature factor (4 C + 2) / (4 C - 3) where ours is Wahl's
    index = (9 / 16 - 0.092) / 0.092
    stress = stress * (4 * index + 2) / (4 * index - 3) / fatigue.wahl_factor(index)
    amplitude, mean = (stress[1] - stress[0]) / 2, (stress[1] + stress[0]) / 2
    compare("stress amplitude [kpsi]", amplitude / kpsi, 29.7, PRINTED, source)
    compare("stress mean [kpsi]", mean / kpsi, 39.6, PRINTED, source)
    steel = fatigue.spring_steel(284.1 * kpsi)
    compare("Goodman safety", steel.safety(amplitude, mean), 1.2328, PRINTED, source)
