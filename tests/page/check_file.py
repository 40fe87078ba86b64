"""The place File and what goes in and out of it: keys and pulls put right by forms, another campaign and tables added, ten thousand pulls, the safety list;
and how the page looks: frames with their styles, forced colours, and nothing that axe-core finds.

usage: check_file.py PAGE PROGRAM"""
import json
import pathlib
import subprocess
import sys
import tempfile

from check_keeping import planned, same
from person import Person, with_campaign

PAGE, PROGRAM = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
OPEN = """const [name, text] = arguments, transfer = new DataTransfer();
transfer.items.add(new File([text], name));
window.dispatchEvent(Object.assign(new Event("drop", {cancelable: true}), {dataTransfer: transfer}));"""
SUBMIT = "return [...document.querySelectorAll('.keys form')].find(form => form.checkVisibility()).querySelector('[type=submit]')"


def record(text, *commands):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "day.json"
        path.write_text(text, encoding="utf-8")
        for words in commands:
            subprocess.run([PROGRAM, words[0], "day.json", *words[1:]], cwd=folder, check=True, capture_output=True)
        return path.read_text(encoding="utf-8")


def drop(person, name, text):
    person.driver.execute_script(OPEN, name, text)


def ring(person, part):
    return {one["id"]: one for one in person.parts()}.get(part, {})


def forms(found):
    """A key of the file and one of a design by their forms; a pull put right and taken back; what the engine refuses is told and changes nothing."""
    page = with_campaign(PAGE, PROGRAM, "day.json", record(planned(), ("record", "ring-01", "--held", "42kg", "--failed", "45kg", "--sure")))
    with Person(page) as person:
        person.tap("File", "nav")
        person.tap("Goal", ".keys")
        person.type("key-goal.service_load", "9 kg")
        person.click(SUBMIT)
        person.wait("return JSON.parse(holdfast.campaign.text).goal.service_load")
        same(found, "service load by form", json.loads(person.campaign()["text"])["goal"]["service_load"], "9 kg")
        person.driver.execute_script("const of = document.getElementById('of'); of.value = 'ring'; of.dispatchEvent(new Event('change'));")
        person.tap("The file", ".keys")
        person.type("key-name", "ring of the year")
        person.click(SUBMIT)
        person.wait("return JSON.parse(holdfast.campaign.text).designs[0].name === 'ring of the year'")
        before = person.campaign()["text"]
        person.tap("Goal", ".keys")
        person.type("key-goal.design_factor", "three")
        person.click(SUBMIT)
        person.wait("return document.getElementById('words').textContent.includes('design_factor')")
        same(found, "the campaign after a key refused", person.campaign()["text"], before)
        person.tap("Put a pull right")
        person.type("pull-note", "the stitching was wet")
        person.tap("Write it anew")
        person.tap("It is so")  # 42 kg cannot be made from these weights
        person.wait("return holdfast.campaign.text.includes('stitching was wet')")
        same(found, "what held, after a remark", ring(person, "ring-01").get("held"), "42kg")
        person.tap("Put a pull right")
        person.tap("It was not pulled")
        person.wait("return !holdfast.campaign.text.includes('stitching was wet')")
        same(found, "the part after that", ring(person, "ring-01")["outcome"], "planned")
    found += person.errors


def added(found):
    """The same plan pulled on two telephones: what the other one has is added, a conflict is asked about, and nothing is half done."""
    plan = planned()
    ours = record(plan, ("record", "ring-01", "--held", "42kg", "--failed", "45kg", "--sure"))
    theirs = record(plan, ("record", "ring-01", "--held", "45kg", "--failed", "50kg", "--sure"), ("record", "ring-02", "--held", "45kg", "--failed", "50kg", "--sure"))
    with Person(with_campaign(PAGE, PROGRAM, "day.json", ours)) as person:
        drop(person, "other.json", theirs)
        person.tap("add")
        person.wait("return [...document.querySelectorAll('#words button')].length")
        same(found, "the campaign before the answer", person.campaign()["text"], ours)
        person.tap("Keep what this file says")
        person.wait("return holdfast.campaign.log")
        same(found, "ours and theirs", [ring(person, part).get("failed") for part in ("ring-01", "ring-02")], ["45kg", 50])
        person.tap("undo")
        person.sees("Taken back")
        same(found, "after undo", person.campaign()["text"], ours)
        drop(person, "pulls.csv", "id,design,held [kg],failed [kg]\nring-03,ring,45,50\n")
        person.wait("return holdfast.campaign.log")
        drop(person, "other.json", theirs)
        person.tap("replace")
        person.wait("return holdfast.campaign.name === 'other.json'")
        same(found, "the other one in its place", person.campaign()["text"], theirs)
    found += person.errors


def many(found):
    """A file of ten thousand pulls is opened, answered and kept."""
    pulls = [{"id": f"p{i}", "held": 300 + (i * 7919) % 97, "failed": 310 + (i * 7919) % 97} for i in range(10000)]
    text = json.dumps({"format": "holdfast-campaign/1", "title": "Ten thousand (invented)", "unit": "N", "rig": {"records": "total"}, "goal": {"design_factor": 3},
                       "designs": [{"id": f"d{d}", "specimens": [{**pull, "id": f"d{d}-{pull['id']}"} for pull in pulls[500 * d:500 * d + 500]]} for d in range(20)]})
    with Person(PAGE) as person:
        drop(person, "many.json", text)
        person.in_frame("d19")
        person.tap("File", "nav")
        person.wait("return document.getElementById('text')")
        person.reload()
        same(found, "ten thousand pulls after a reload", person.campaign()["text"] == text, True)
    found += person.errors


def looks(found):
    """Each place in each view: axe-core, forced colours, and the frame's own styles, which the policy of the page lets in by the page's hand only."""
    page = with_campaign(PAGE, PROGRAM, "day.json", record(planned(), *[("record", f"ring-{i:02d}", "--held", "42kg", "--failed", "45kg", "--mode", "stitch", "--sure") for i in (1, 2, 3)]))
    axe = True
    with Person(page) as person:
        for place in ("Plan", "Bench", "Answer", "File"):
            person.tap(place, "nav")
            person.wait("const view = document.querySelector('main').firstElementChild; return view.className === arguments[0] && view.childElementCount > 1", place.lower())
            for width, dark in ((360, False), (1600, True)):
                person.view(width, dark=dark)
                complaints = person.axe()
                axe = axe and complaints is not None
                found += [f"{place} at {width}: {line}" for line in complaints or ()]
            person.view(390)
        person.tap("Answer", "nav")
        person.in_frame("ring")
        styled = person.wait("""const inside = document.querySelector("iframe").contentDocument, one = inside.querySelector("[data-style*=stroke-width]");
          return inside.adoptedStyleSheets.length && one && [getComputedStyle(one).strokeWidth, one.dataset.style, getComputedStyle(inside.body).maxWidth]""")
        same(found, "stroke in the frame", f"stroke-width:{float(styled[0][:-2]):.3f}", styled[1])
        policy = person.driver.execute_script("return document.querySelector('meta[http-equiv]').content")
        if "unsafe-inline" in policy or policy.count("sha256-") != 2:
            found.append(f"policy {policy}")
        person.tap("Bench", "nav")
        person.wait("return document.querySelector('.safety')")
        lines = person.driver.execute_script("return document.querySelectorAll('.safety input').length")
        for at in range(lines):
            person.tap(f"safety-{at}")
        person.sees(f"{lines} of {lines} looked at")
        person.reload()
        person.sees(f"{lines} of {lines} looked at")
        same(found, "the list when all was looked at", person.driver.execute_script("return document.querySelector('.safety').open"), False)
        person.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [{"name": "forced-colors", "value": "active"}]})
        here, there = person.driver.execute_script("return [...document.querySelectorAll('nav a')].map(a => [a.hasAttribute('aria-current'), getComputedStyle(a).borderBottomColor])"
                                                   ".sort((a, b) => b[0] - a[0]).slice(0, 2).map(one => one[1])")
        if here == there:
            found.append(f"with forced colours the place one is at looks like the others: {here}")
    found += person.errors
    return axe


def main():
    found = []
    forms(found)
    added(found)
    many(found)
    axe = looks(found)
    for line in found:
        print(line)
    print(f"forms, another campaign, ten thousand pulls, looks{'' if axe else ' (without axe-core, which is not here)'}: {len(found)} findings")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())
