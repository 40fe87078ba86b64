"""Whether committed figures are those that their script made of their inputs. Computing them anew takes minutes and needs nothing of Holdfast, so it waits for
the long tests; that nobody changed script, inputs or figures alone is seen in no time."""
import hashlib
import pathlib


def stamp_of(figures, inputs):
    digest = hashlib.sha256()
    for path in [*map(pathlib.Path, inputs), pathlib.Path(figures)]:
        data = path.read_bytes()
        digest.update(f"{path.name} {len(data)}\n".encode() + data)
    return digest.hexdigest() + "\n"


def stamp_file(figures):
    return pathlib.Path(figures).with_suffix(".sha256")


def write_stamp(figures, inputs):
    stamp_file(figures).write_text(stamp_of(figures, inputs))


def check_stamp(figures, inputs):
    """0, or 1 with a line that says what to do."""
    fresh = stamp_file(figures).exists() and stamp_file(figures).read_text() == stamp_of(figures, inputs)
    print(f"{pathlib.Path(figures).name}: made by its script of these inputs" if fresh else
          f"{figures}: script, inputs or figures were changed alone; run {inputs[0]}")
    return 0 if fresh else 1
