"""Voltage drop: what is allowed, what a run gives, how hot copper shortens the run. After AC 43.13-1B chapter 11."""

from __future__ import annotations

import math

from harnesscheck.source import Source, Status

CONTINUOUS = {14.0: 0.5, 28.0: 1.0, 115.0: 4.0, 200.0: 7.0}
"""Nominal volts to greatest drop under continuous load, volts."""
CONTINUOUS_SOURCE = Source(
    "AC 43.13-1B", Status.CONFIRMED, "Chg 1", "Table 11-6; limits read in Tables 11-7 and 11-8, p. 11-22"
)
INTERMITTENT = {14.0: 1.0, 28.0: 2.0, 115.0: 8.0, 200.0: 14.0}
"""Nominal volts to greatest drop under a load of up to two minutes, volts: twice the continuous value."""
INTERMITTENT_SOURCE = Source("AC 43.13-1B", Status.MEMORY, "Chg 1", "Table 11-6, intermittent column; page not seen")
GROUND_PATH = 0.005
"""Greatest resistance from the generator's ground point to the device's, ohm."""
GROUND_PATH_SOURCE = Source("FAA handbook text on voltage drop", Status.SECOND_HAND, paragraph="third-party copy")
FEEDER_SHARE = 0.02
"""Greatest drop of a main power wire from source or battery to bus, as a share of the regulated voltage."""


def allowed(nominal: float, *, continuous: bool = True) -> float | None:
    """Greatest drop for a nominal system voltage, volts; None for a voltage that the table does not have.

    A 12 V or 24 V battery name belongs to the 14 V or 28 V system: state the system voltage.

    >>> allowed(14.0), allowed(28.0, continuous=False), allowed(48.0)
    (0.5, 2.0, None)
    """
    return (CONTINUOUS if continuous else INTERMITTENT).get(nominal)


def drop(resistance: float, current: float) -> float:
    """Volts lost over a run of ``resistance`` ohm (go and return: the AC's lengths include the ground wire).

    >>> round(drop(0.00126 * 39, 20.0), 2)      # AC 43.13-1B Table 11-8: AWG 10, 39 ft, 20 A: 0.98 V
    0.98
    """
    return resistance * current


def longest_run(resistance_per_length: float, current: float, limit: float) -> float:
    """Longest run within ``limit`` volts, in the length unit of the resistance. Current above zero.

    >>> round(longest_run(0.00126, 20.0, 1.0), 1)   # Table 11-8: AWG 10 at 20 A within 1 V: 39 ft
    39.7
    """
    if current <= 0:
        raise ValueError("a current above zero is needed")
    return limit / (resistance_per_length * current)


def conductor_temperature(ambient: float, rating: float, current: float, most: float) -> float:
    """Conductor temperature at a current, Celsius, as the AC estimates it: T2 = T1 + (TR - T1) sqrt(I2 / Imax).

    The symbols are confirmed (p. 11-23), the square root is from memory; the AC itself calls it quite conservative.
    A heat balance gives the square of the ratio instead: ``conductor_temperature_balance``.

    >>> round(conductor_temperature(50.0, 200.0, 20.0, 26.0))   # AC example no. 2: 182 C (result from memory)
    182
    """
    return ambient + (rating - ambient) * math.sqrt(_share(current, most))


def conductor_temperature_balance(ambient: float, rating: float, current: float, most: float) -> float:
    """Conductor temperature by heat balance, Celsius: the rise goes with the square of the current. Own derivation.

    >>> round(conductor_temperature_balance(50.0, 200.0, 20.0, 26.0))
    139
    """
    return ambient + (rating - ambient) * _share(current, most) ** 2


def _share(current: float, most: float) -> float:
    if most <= 0 or current < 0:
        raise ValueError("currents are positive")
    return current / most


def hot_run(length: float, celsius: float, *, aluminium: bool = False) -> float:
    """Run length that gives at ``celsius`` the drop which ``length`` gives at 20 C, same unit.

    L2 = 254.5 L1 / (234.5 + T2) for copper, 258.1 / (238.1 + T2) for aluminium. Source: AC 43.13-1B Chg 1 p. 11-22.

    >>> round(hot_run(15.5, 182.0), 1)      # AC example no. 2: 9.5 ft
    9.5
    """
    zero = 238.1 if aluminium else 234.5
    return (zero + 20) * length / (zero + celsius)
