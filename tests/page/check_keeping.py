"""What happens to a day in the page that is disturbed: by keys alone, reloaded at each step, where the browser keeps nothing, with hostile names.

usage: check_keeping.py PAGE PROGRAM"""
import json
import pathlib
import subprocess
import sys
import tempfile

from person import Person, with_campaign

PAGE, PROGRAM = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
HOSTILE = "</script><img src=x onerror=\"window.caught=1\"><svg onload='window.caught=1'>{{7*7}}${7*7}&lt;b&gt;\u202egnp"
REFUSED = "Object.defineProperty(window, 'indexedDB', {get() { throw new DOMException('refused', 'SecurityError'); }});"


def planned(name="sewn ring", title="A day"):
    with tempfile.TemporaryDirectory() as folder:
        for words in (["new", "day.json", "--title", title, "--weights", "6x10kg 2x5kg", "--tare", "2.6kg", "--design", "ring", "--name", name, "--mean",
                       "50kg", "--cv", "12%", "--design-factor", "3"], ["plan", "day.json", "--write"], ["set", "day.json", "rig.dwell_s", "20"]):
            subprocess.run([PROGRAM, *words], cwd=folder, check=True, capture_output=True)
        return (pathlib.Path(folder) / "day.json").read_text(encoding="utf-8")


def same(found, what, a, b):
    if a != b:
        found.append(f"{what}: {a!r}, expected {b!r}")


def by_keys(found):
    """From nothing to a pull and its undoing, without a pointer."""
    with Person(PAGE, width=1200) as person:
        person.enter("New test")
        for name, words in (("title", "By keys"), ("weights", "6x10kg 2x5kg"), ("tare", "2.6kg"), ("name-1", "sewn ring"), ("mean-1", "50kg"), ("cv-1", "12%")):
            person.reach("field-" + name)
            person.press(words)
        person.enter("Plan this test")
        person.enter("Write this plan")
        person.sees("rung 1 of")
        for _ in range(3):
            person.enter("hangs")
            person.put_forward(31)
            person.enter("held")
        person.enter("failed")
        person.enter("keep")
        person.wait("return holdfast.campaign.text.includes('\"failed\"')")
        first = [part for part in person.parts() if part["outcome"] == "failed"]
        same(found, "pulls by keys", [(len(first), first[0]["phase"])], [(1, "adding")])
        person.press("3")
        person.wait("return document.querySelector('.answer')")
        person.press("4")
        person.enter("undo")
        person.sees("Taken back")
        same(found, "pulls after undo", [part["outcome"] for part in person.parts() if part["outcome"] != "planned"], [])
    found += person.errors


def rung(person):
    return person.wait("const part = document.querySelector('.bench .part'); return part && part.textContent")


def reloaded(found, page):
    """A reload at each step comes back to the same part, the same rung and the same second."""
    with Person(page) as person:
        person.tap("Bench", "nav")
        for step in range(3):
            before = rung(person)
            person.reload()
            same(found, f"rung {step + 1} after a reload", rung(person), before)
            person.tap("hangs")
            second = "return Number(document.querySelector('.clock').textContent.split(' ')[0])"
            until = person.wait(second)
            person.reload()
            left = person.wait(second)
            if not until - 10 < left <= until:
                found.append(f"{left} s left after a reload in the dwell, {until} s before it")
            same(found, "rung in the dwell", rung(person), before)
            person.put_forward(21)
            person.tap("held")
            person.sees(f"rung {step + 2} of")
        before = rung(person)
        person.tap("failed")
        person.reload()  # not written down: the question comes again
        same(found, "rung after a reload in the last look", rung(person), before)
        person.tap("failed")
        person.tap("keep")
        person.wait("return holdfast.campaign.log")
        text = person.campaign()["text"]
        person.reload()
        same(found, "the campaign after a reload", person.campaign()["text"], text)
        person.tap("undo")
        person.sees("Taken back")
    found += person.errors


def refused(found, page):
    """Where the browser keeps nothing the page says so in its first line and goes on."""
    with Person(page, before=REFUSED) as person:
        person.sees("This browser keeps nothing")
        person.tap("Bench", "nav")
        rung(person)
        person.tap("failed")
        person.tap("keep")
        person.wait("return document.querySelector('.doubts').textContent || holdfast.campaign.log")
    found += person.errors


def hostile(found):
    """A name that is markup elsewhere is a text in every place."""
    with Person(with_campaign(PAGE, PROGRAM, "day.json", planned(HOSTILE, HOSTILE))) as person:
        for place in ("Plan", "Bench", "Answer", "File"):
            person.tap(place, "nav")
            person.wait("return document.querySelector('main').firstElementChild.childElementCount > 0 && document.querySelector('main').textContent.length > 40")
            person.sees("</script><img")
        if person.driver.execute_script("return window.caught || document.querySelectorAll('main img, main svg').length"):
            found.append("a name was read as markup")
        same(found, "the campaign inside", json.loads(person.campaign()["text"])["title"], HOSTILE)
    found += person.errors


def brought(found):
    """A page that brings a campaign into a browser that has kept another asks which; the one that is gone on with comes without a question."""
    first, second = with_campaign(PAGE, PROGRAM, "first.json", planned(title="First")), with_campaign(PAGE, PROGRAM, "second.json", planned(title="Second"))
    with Person(first) as person:
        person.tap("File", "nav")
        for choice, name in (("kept", "first.json"), ("inside", "second.json")):
            person.look_back()
            person.page = second
            person.driver.get(second.as_uri())
            person.tap(choice)
            person.wait("return holdfast.campaign.name === arguments[0]", name)
        person.reload()
        person.wait("return holdfast.campaign.name === 'second.json'")
    found += person.errors


def broken(found, page):
    """A text that is no campaign is told at its line, and the file stays."""
    with Person(page) as person:
        person.tap("File", "nav")
        person.wait("return document.getElementById('text')")
        person.driver.execute_script("""const area = document.getElementById('text');
          area.value = area.value.replace('"tare"', '"tara"');
          area.dispatchEvent(new Event('input'));""")
        person.sees("line ")
        person.sees('expected "tare"?')
        person.tap("line ")
        chosen = person.driver.execute_script("const a = document.getElementById('text'); return a.value.slice(a.selectionStart, a.selectionEnd)")
        if '"tara"' not in chosen:
            found.append(f"the finding leads to {chosen!r}")
        if "tara" in person.campaign()["text"]:
            found.append("the broken text was taken")
    found += person.errors


def main():
    found, page = [], with_campaign(PAGE, PROGRAM, "day.json", planned())
    by_keys(found)
    reloaded(found, page)
    refused(found, page)
    hostile(found)
    brought(found)
    broken(found, page)
    for line in found:
        print(line)
    print(f"keys, reloads, no storage, hostile names, two campaigns, a broken text: {len(found)} findings")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())
