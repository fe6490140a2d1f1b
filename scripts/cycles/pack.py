"""Debian's Blender with all that it needs as a folder, for a machine without Debian's packages: README.md says how it starts there.

    python3 pack.py OUT
"""

import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

PACKAGES = "/usr/lib/python3/dist-packages"
FOLDERS = (
    *(f"{PACKAGES}/{name}" for name in ("numpy", "scipy", "skimage", "PIL", "packaging", "pywt", "imageio")),
    "/usr/lib/python3.11",
    "/usr/share/blender/datafiles/colormanagement",
    *(f"/usr/share/blender/scripts/{name}" for name in ("addons/cycles", "modules", "startup")),
)
GCONV = Path("/usr/lib/x86_64-linux-gnu/gconv")
FILES = ("/usr/bin/blender", "/lib64/ld-linux-x86-64.so.2", f"{GCONV}/gconv-modules", *map(str, GCONV.glob("UTF-*.so")))
NOT_NEEDED = shutil.ignore_patterns(
    "tests", "__pycache__", "idlelib", "ensurepip", "lib2to3", "pydoc_data", "tkinter", "dist-packages", "config-3.11*", "*.a", "*.pyi",
    "filmic*.spi3d",
)
# Libraries for films, maps, sound and windows, which rendering never calls: empty ones that define the same names stand in for them.
NEVER_CALLED = re.compile(r"lib(av|sw|postproc|gdal|heif|opencv|rsvg|placebo|spatialite|haru|hpdf|jack|pulse|SDL|openal|sndfile|icudata)")
NEWEST = "__CUDA_ARCH__ <= 899", "__CUDA_ARCH__ <= 1299"  # Blender 3.4 refuses cards that are newer than itself, without need
ROOM = 65536  # bytes for the data of an empty library


def lines(*command):
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()


def installed():
    """Name of each shared library of this machine -> its path."""
    found = {}
    for line in lines("ldconfig", "-p"):
        if match := re.match(r"\s+(\S+) \(libc6,x86-64[^)]*\) => (\S+)", line):
            found.setdefault(match[1], match[2])
    return found


def needed(path):
    return re.findall(r"NEEDED.*\[(.+?)\]", "\n".join(lines("readelf", "-dW", str(path))))


def copy_libraries(out):
    """Copies what the programs and modules in `out` are linked with, and what that is linked with."""
    known, done = installed(), set()
    waiting = [out / FILES[0][1:], *out.rglob("*.so*")]
    while waiting:
        for name in needed(waiting.pop()):
            if name in done or name not in known or name.startswith("ld-linux"):
                continue
            done.add(name)
            target = out / known[name][1:]
            target.parent.mkdir(parents=True, exist_ok=True)
            if NEVER_CALLED.match(name):
                empty(known[name], name, target)
            else:
                shutil.copy2(Path(known[name]).resolve(), target)
                waiting.append(target)


def empty(library, name, target):
    """A library that defines the names of another, with their versions: functions that return 0, and zeros."""
    names, versions = {"function": set(), "object": set()}, {}
    for line in lines("nm", "-D", "--defined-only", library):
        kind, symbol = line.split()[-2:]
        if kind != "A":
            symbol, _, version = symbol.replace("@@", "@").partition("@")
            names["function" if kind in "TtWwi" else "object"].add(symbol)
            versions.setdefault(version, set()).add(symbol)
    label = lambda symbol, kind: f'.weak "{symbol}"\n.type "{symbol}",@{kind}\n"{symbol}":\n'
    text = "".join(label(symbol, "function") for symbol in sorted(names["function"]))
    data = "".join(label(symbol, "object") for symbol in sorted(names["object"]))
    code = f'.text\n{text}xor %eax,%eax\nret\n.data\n{data}.zero {ROOM}\n.section .note.GNU-stack,"",@progbits\n'
    with tempfile.TemporaryDirectory() as folder:
        source, script = Path(folder) / "empty.s", Path(folder) / "versions"
        source.write_text(code)
        command = ["gcc", "-shared", "-nostdlib", f"-Wl,-soname,{name}", "-o", str(target), str(source)]
        if named := {version: symbols for version, symbols in versions.items() if version}:
            script.write_text("".join(version_of(version, symbols) for version, symbols in named.items()))
            command.append(f"-Wl,--version-script={script}")
        subprocess.run(command, check=True)


def version_of(name, symbols):
    """A line of a linker's version script."""
    return f"{name} {{ " + "".join(f'"{symbol}"; ' for symbol in sorted(symbols)) + "};\n"


def main():
    out = Path(sys.argv[1])
    for folder in FOLDERS:
        shutil.copytree(folder, out / folder[1:], ignore=NOT_NEEDED, ignore_dangling_symlinks=True, dirs_exist_ok=True)
    for file in FILES:
        (out / file[1:]).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(file, out / file[1:])
    copy_libraries(out)
    limit = out / "usr/share/blender/scripts/addons/cycles/source/kernel/device/cuda/config.h"
    limit.write_text(limit.read_text().replace(*NEWEST))


main()
