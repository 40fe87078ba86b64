"""A person at the page: taps what can be seen, types, presses keys, and looks. Everything goes through the browser's own input."""
import json
import pathlib
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).parents[1]))
from browser import browser  # noqa: E402
from selenium.common.exceptions import StaleElementReferenceException  # noqa: E402
from selenium.webdriver import ActionChains  # noqa: E402
from selenium.webdriver.common.keys import Keys  # noqa: E402

PATIENCE_S = 60
FIND = """const [words, inside] = arguments, box = document.querySelector(inside);
const found = box && [...box.querySelectorAll("button, a, summary, input, select")].find(element => element.checkVisibility() && !element.disabled &&
  (element.textContent.trim().startsWith(words) || element.id === words));
if (found) found.scrollIntoView({block: "center"});
return found || null;"""
# A clock that can be put forward: 30 seconds of a dwell pass in none.
CLOCK = """(() => {
  let ahead = 0;
  const now = performance.now.bind(performance);
  performance.now = () => now() + ahead;
  window.putForward = seconds => (ahead += 1000 * seconds);
})();"""


class Person(browser.Browser):
    def __init__(self, page, width=390, before=""):
        super().__init__()
        self.page, self.taps, self.errors = pathlib.Path(page).resolve(), 0, []
        self.driver.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": CLOCK + before})
        asked, complaints = self.visit(self.page)
        self.errors += [f"asked for {address}" for address in asked if not address.startswith(("blob:", "data:"))] + complaints
        self.view(width)
        self.wait("return holdfast.started.then(() => true)")

    def __exit__(self, *unused):
        self.look_back()
        super().__exit__(*unused)

    def look_back(self):
        """What was asked for and complained of since the last look."""
        self.errors += [f"asked for {address}" for address in self.asked_for(self.page.as_uri()) if not address.startswith(("blob:", "data:"))]
        self.errors += [line["message"] for line in self.driver.get_log("browser") if line["level"] == "SEVERE"]

    def wait(self, script, *arguments):
        """The first true value of the script; the text of the page where it never comes."""
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            value = self.driver.execute_script(script, *arguments)
            if value:
                return value
            time.sleep(0.05)
        raise AssertionError(f"waited in vain for {script[:80]} {arguments}\n{self.text()}\n{self.driver.get_log('browser')}")

    def text(self):
        return self.driver.execute_script("return document.body.innerText")

    def sees(self, words):
        self.wait("return document.body.innerText.includes(arguments[0])", words)

    def tap(self, words, inside="body"):
        self.click(FIND, words, inside)

    def click(self, script, *arguments):
        """A tap on what the script finds; found again where the page was drawn anew under the finger."""
        while True:
            try:
                self.wait(script, *arguments).click()
                break
            except StaleElementReferenceException:
                continue
        self.taps += 1

    def type(self, name, words):
        field = self.wait("return document.getElementById(arguments[0])", "field-" + name)
        field.clear()
        field.send_keys(words)

    def press(self, *keys):
        ActionChains(self.driver).send_keys(*keys).perform()

    def reach(self, words):
        """By the Tab key to what starts with these words, as somebody without a pointer does."""
        for _ in range(120):
            at = self.driver.execute_script("const e = document.activeElement; return [e.textContent.trim(), e.id]")
            if at[0].startswith(words) or at[1] == words:
                return
            self.press(Keys.TAB)
        raise AssertionError(f"no key leads to {words}\n{self.text()}")

    def enter(self, words):
        self.wait(FIND, words, "body")
        self.reach(words)
        self.press(Keys.ENTER)

    def put_forward(self, seconds):
        """Once the clock of the page runs."""
        self.wait("return document.querySelector('.clock').textContent")
        self.driver.execute_script("putForward(arguments[0])", seconds)

    def reload(self):
        self.look_back()
        self.driver.refresh()
        self.wait("return window.holdfast && holdfast.started.then(() => true)")

    def campaign(self):
        return self.driver.execute_script("return {...holdfast.campaign}")

    def parts(self):
        return [part for design in json.loads(self.campaign()["text"])["designs"] for part in design["specimens"]]

    def in_frame(self, words):
        self.wait("""const frame = document.querySelector("iframe");
          return frame && frame.contentDocument && frame.contentDocument.body && frame.contentDocument.body.textContent.includes(arguments[0])""", words)

    def too_wide(self):
        return self.driver.execute_script("return document.documentElement.scrollWidth > innerWidth")


def with_campaign(page, program, name, text):
    """The page with a campaign inside, made by the program, in a folder of its own."""
    folder = pathlib.Path(tempfile.mkdtemp(prefix="holdfast-page-"))
    (folder / name).write_text(text, encoding="utf-8")
    subprocess.run([pathlib.Path(program).resolve(), "page", name, "--page", pathlib.Path(page).resolve(), "-o", "page.html"], cwd=folder, check=True)
    return folder / "page.html"
