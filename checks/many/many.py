"""Plans and proves a job of 500 sections under a pseudo-terminal, and through pipes, and looks at the bar.

many.py PROGRAM
"""

import os
import pty
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SECTIONS = 500
# Enough for a bar.
FEWER = 100
# A bar as it is drawn: what is done, cells, how many.
BAR = re.compile(r"(planning|proving) \[(#*)(\.*)\] (\d+) of (\d+), \d+ s")


def slot(half, radius):
    """A slot with round ends, as a drawing."""
    head = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"
    corners = [(-half, -radius, 0), (half, -radius, 1), (half, radius, 0), (-half, radius, 1)]
    body = "".join(f"10\n{x}\n20\n{y}\n42\n{bulge}\n" for x, y, bulge in corners)
    return f"{head}0\nLWPOLYLINE\n8\nEDGE\n90\n4\n70\n1\n{body}0\nENDSEC\n0\nEOF\n"


def job(folder, sections):
    """Writes a job of so many sections."""
    text = 'name = "many"\nunits = "mm"\n'
    for i in range(sections):
        (folder / f"s{i}.dxf").write_text(slot(1 + 0.002 * i, 0.25 + 0.003 * (i % 97)))
        text += (
            f'[[section]]\nid = "s{i}"\nkind = "die"\nsteel = "D2"\nhardness_hrc = 60\nsize = [24.0, 16.0, 20.0]\n'
            f'relief_deg = 0\n[[section.edge]]\nid = "e"\ndrawing = "s{i}.dxf"\ncut = "finished"\nat = "centred"\n'
        )
    (folder / "job.toml").write_text(text)


def on_terminal(command, folder, more):
    """What a program writes on a pseudo-terminal with standard error alone, its standard output, and its exit code."""
    ours, theirs = pty.openpty()
    env = {**os.environ, **more}
    with tempfile.TemporaryFile() as out:
        child = subprocess.Popen(command, cwd=folder, stdin=theirs, stdout=out, stderr=theirs, env=env)
        os.close(theirs)
        seen = b""
        while True:
            try:
                read = os.read(ours, 65536)
            except OSError:  # Linux says so when the other side is closed.
                break
            if not read:
                break
            seen += read
        code = child.wait()
        os.close(ours)
        out.seek(0)
        return seen.decode().replace("\r\n", "\n"), out.read().decode(), code


def shown(screen):
    """What still stands on a terminal's lines, where a carriage return begins a line anew."""
    lines = []
    for written in screen.split("\n"):
        cells = []
        for part in written.split("\r"):
            cells[: len(part)] = part
        lines.append("".join(cells).rstrip())
    return "\n".join(lines)


def bars(screen, word, sections):
    """The counts that a stage's bars have shown."""
    counts = []
    for what, full, empty, done, of in BAR.findall(screen):
        assert len(full) + len(empty) == 30 and len(full) == 30 * int(done) // int(of), screen
        if what == word:
            assert int(of) == sections, screen
            counts.append(int(done))
    assert counts == sorted(counts) and len(set(counts)) > 1, f"{word}: {counts}"
    return counts


def both_ways(program, folder, sections, more):
    """Plans a job through pipes and on a terminal, and says how long the pipes took and how many bars were drawn."""
    job(folder, sections)
    plan = [program, "plan", "job.toml", "--out", "package", "--date", "2026-01-01"]
    began = time.monotonic()
    piped = subprocess.run(plan, cwd=folder, capture_output=True, text=True)
    took = time.monotonic() - began
    assert piped.returncode == 0 and f"read back: {sections} of {sections} agree" in piped.stdout, piped.stdout[-500:]
    assert not any(code in piped.stderr for code in ["\r", "[#", "\x1b"]), "no bar through a pipe"
    screen, out, code = on_terminal(plan, folder, more)
    assert (code, out) == (0, piped.stdout), (code, out[-500:])
    assert "\x1b" not in screen, "no codes of one terminal"
    assert shown(screen).strip() == piped.stderr.strip(), "nothing of the bar stays"
    return took, screen


def main():
    program = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        took, screen = both_ways(program, folder, SECTIONS, {})
        counts = [len(bars(screen, word, SECTIONS)) for word in ["planning", "proving"]]
        screen, _, code = on_terminal([program, "prove", "package"], folder, {})
        assert code == 0 and bars(screen, "proving", SECTIONS) and not shown(screen).strip(), screen[-500:]
        for more in [{"NO_COLOR": "1"}, {"TERM": "dumb"}]:
            _, screen = both_ways(program, folder, FEWER, more)
            assert bars(screen, "proving", FEWER)
        _, screen = both_ways(program, folder, 1, {})
        assert not BAR.search(screen) and "\r" not in screen, "no bar where nobody waits"
    print(
        f"many: {SECTIONS} sections planned and proven in {took:.1f} s; {counts[0]} bars of planning and {counts[1]} of proving "
        "drawn on a terminal, and none elsewhere"
    )


main()
