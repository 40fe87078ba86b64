"""Texts of a picture as a browser really sets them: which lie over each other, which leave the picture.

    from overlap import browser, overlaps, outside
    with browser(folder) as driver:
        driver.get("file:///…/chart.svg")
        overlaps(driver)             # [(text a, text b, area in px²), …] within each root of its own
        outside(driver)              # [text, …]

Works for an SVG file and for a page with pictures in it. Needs Chromium and its driver, and selenium for Python.
"""
import contextlib
import os

SCRIPT = """
const [rootCss, slack] = arguments, pairs = [], beyond = [];
for (const root of document.querySelectorAll(rootCss)) {
  const frame = root.getBoundingClientRect();
  const found = [...root.querySelectorAll('text')].filter(t => t.textContent.trim()).map(t => [t.textContent, t.getBoundingClientRect()]);
  for (let i = 0; i < found.length; i++) {
    const [a, p] = found[i];
    if (p.left < frame.left - slack || p.right > frame.right + slack || p.top < frame.top - slack || p.bottom > frame.bottom + slack)
      beyond.push(a);
    for (let j = i + 1; j < found.length; j++) {
      const [b, q] = found[j];
      const wide = Math.min(p.right, q.right) - Math.max(p.left, q.left), high = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top);
      if (wide > slack && high > slack) pairs.push([a, b, wide * high]);
    }
  }
}
return [pairs, beyond];
"""


def _look(driver, root_css, slack):
    return driver.execute_script(SCRIPT, root_css, slack)


def overlaps(driver, root_css="svg", slack=1.0):
    """Pairs of texts of one root whose boxes share more than `slack` px in both directions. Lines of text boxes are taller than their
    letters; boxes here are cut by nothing."""
    return [tuple(pair) for pair in _look(driver, root_css, slack)[0]]


def outside(driver, root_css="svg", slack=1.0):
    """Texts that reach more than `slack` px beyond their root."""
    return _look(driver, root_css, slack)[1]


@contextlib.contextmanager
def browser(folder, dark=False, width=1000, height=900):
    """A headless Chromium with its profile in `folder`, no network needed."""
    from selenium import webdriver
    from selenium.webdriver.chrome.options import Options
    from selenium.webdriver.chrome.service import Service
    options = Options()
    options.binary_location = "/usr/bin/chromium"
    for flag in ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--hide-scrollbars",
                 "--disable-dev-shm-usage", f"--user-data-dir={os.path.join(folder, 'profile')}", f"--window-size={width},{height}"):
        options.add_argument(flag)
    driver = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)
    try:
        driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]})
        yield driver
    finally:
        driver.quit()
