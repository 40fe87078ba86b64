"""Makes the engine small enough to hand on: its tables of decimal numbers are taken out, then all of it is compressed.

A double that stands for a decimal of a few figures has eight bytes that hardly compress. Written as a whole number and a power of ten it takes
five that do, and dividing the one by the other gives the very same double (both are exact, a division is rounded once). unpack.js
puts them back."""
import math
import struct
import subprocess
import tempfile

RUN_LEAST = 32  # numbers in a row that make a table
POWERS = 22  # 10^22 is the last power of ten that a double holds exactly


def decimal(value):
    """(whole number, power of ten) of a double that is a short decimal; None of any other."""
    if value == 0:
        return (0, 0) if math.copysign(1, value) > 0 else None
    if not 1e-12 < value < 4e9:
        return None
    digits, _, exponent = repr(value).partition("e")
    whole, _, fraction = digits.partition(".")
    fraction = fraction.rstrip("0")
    power, number = len(fraction) - int(exponent or 0), int(whole + fraction)
    if power < 0:
        number, power = number * 10 ** -power, 0
    fits = number < 1 << 32 and power <= POWERS and number / float(10 ** power) == value
    return (number, power) if fits else None


def runs_of(engine):
    """[(first byte, decimals)] of the tables, in order."""
    found, taken = [], 0
    for phase in range(8):
        values = [value for value, in struct.iter_unpack("<d", engine[phase:len(engine) - (len(engine) - phase) % 8])]
        run = []
        for at, value in enumerate([*values, math.nan]):
            pair = decimal(value)
            if pair:
                run.append(pair)
                continue
            if len(run) >= RUN_LEAST and sum(number > 0 for number, _ in run) > len(run) / 2:
                found.append((phase + 8 * (at - len(run)), run))
            run = []
    apart = []
    for first, run in sorted(found):
        if first >= taken:
            apart.append((first, run))
            taken = first + 8 * len(run)
    return apart


def compressed(content):
    """As gzip has it, by zopfli: a twentieth smaller than its own best, for two seconds at build. No time and no name stand in it."""
    with tempfile.NamedTemporaryFile() as file:
        file.write(content)
        file.flush()
        return subprocess.run(["zopfli", "--i5", "-c", file.name], check=True, capture_output=True).stdout


def pack(engine):
    """(compressed bytes, the places of the tables as text)."""
    rest, numbers, at = bytearray(), [], 0
    runs = runs_of(engine)
    for first, run in runs:
        rest += engine[at:first]
        numbers += run
        at = first + 8 * len(run)
    rest += engine[at:]
    planes = [bytes(power for _, power in numbers)] + [bytes(number >> shift & 255 for number, _ in numbers) for shift in (0, 8, 16, 24)]
    return compressed(bytes(rest) + b"".join(planes)), ",".join(f"{first}:{len(run)}" for first, run in runs)
