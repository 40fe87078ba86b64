"""Installs into a scratch prefix and builds a small program against what was installed.

usage: install.py BUILD_FOLDER
"""
import os
import shlex
import subprocess
import sys
import tempfile

USER = r"""
#include <stdio.h>
#include <string.h>
#include "holdfast/strength/family.h"

int main(void) {
    double k = 0, error = 0;
    const hf_family *family = hf_family_find("normal");
    if (!family || family->factor(5, 0.90, 0.95, &k, &error) != HF_OK) return 1;
    printf("%.3f\n", k);
    return 0;
}
"""


def run(*words, **more):
    result = subprocess.run(words, text=True, capture_output=True, timeout=300, **more)
    assert result.returncode == 0, f"{words}: {result.stdout}{result.stderr}"
    return result.stdout


def main(build):
    with tempfile.TemporaryDirectory() as prefix:
        run("cmake", "--install", build, "--prefix", prefix)
        pc = [os.path.join(folder, name) for folder, _, names in os.walk(prefix) for name in names if name == "holdfast.pc"]
        assert len(pc) == 1, pc
        program = os.path.join(prefix, "bin", "holdfast")
        assert run(program, "version").startswith("holdfast "), "the installed program does not run"
        for name in ("share/man/man1/holdfast.1", "share/bash-completion/completions/holdfast", "share/zsh/site-functions/_holdfast", "share/fish/vendor_completions.d/holdfast.fish",
                     "share/doc/holdfast/LICENSE", "share/doc/holdfast/commands.md"):
            assert os.path.getsize(os.path.join(prefix, name)) > 0, name
        variables = {**os.environ, "PKG_CONFIG_PATH": os.path.dirname(pc[0])}
        flags = shlex.split(run("pkg-config", "--cflags", "--libs", "holdfast", env=variables))
        source, made = os.path.join(prefix, "user.c"), os.path.join(prefix, "user")
        with open(source, "w", encoding="utf-8") as file:
            file.write(USER)
        run("cc", "-std=c17", "-Wall", "-Wextra", "-Wpedantic", "-Werror", source, "-o", made, *flags)
        # scipy: nct.ppf(0.95, 4, norm.ppf(0.90)*sqrt(5))/sqrt(5) = 3.40663
        assert run(made).strip() == "3.407", "wrong factor from the installed library"


if __name__ == "__main__":
    main(sys.argv[1])
