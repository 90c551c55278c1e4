"""Moisture that wood settles at in steady air."""


def equilibrium_moisture(humidity: float, temperature: float) -> float:
    """Equilibrium moisture content of wood, % of its dry mass, in air of `humidity` (% relative) and
    `temperature` (degrees Celsius).

    Hailwood and Horrobin's equation for two hydrates, with the Celsius constants of Simpson, Equilibrium moisture
    content of wood in outdoor locations, FPL-RN-0268 (1998). Valid from -1 to 54 degrees, where it keeps to the
    published table to 0.03 % moisture in the mean; at 60 degrees it is 0.4 % too wet. It speaks of air: rain
    takes a surface to fibre saturation, and durable tropical woods often settle 1 to 2 % lower.

    Raises: ValueError for humidity outside 0 to 100.
    """
    if not 0 <= humidity <= 100:
        raise ValueError(f"relative humidity is 0 to 100 %, not {humidity:g}")
    t = temperature
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * humidity / 100
    free = kh / (1 - kh)
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (free + bound)
