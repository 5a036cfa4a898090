"""ship/portable: names and sizes that any common system and card can hold."""

from __future__ import annotations

import pytest

from atlasgen.ship.portable import MOST_FILE_BYTES, folded, name_faults, size_faults

# Signs and names: Microsoft, "Naming Files, Paths, and Namespaces"; limits: FAT32 File System Specification (2000).


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("a/b:c.txt", "holds the sign ':'"),
        ("what?.bin", "holds the sign '?'"),
        ("tab\there", "holds the sign '\\t'"),
        ("ends /x", "ends with a space"),
        ("dot./x", "ends with a space or a dot"),
        ("CON", "name of a device"),
        ("nul.tar.gz", "name of a device"),
        ("deep/Lpt9.idx", "name of a device"),
        ("x" * 256, "256 signs long; at most 255"),
        ("\N{WATER WAVE}" * 128, "256 signs long; at most 255"),
    ],
)
def test_a_name_that_some_system_refuses_is_told(name, words):
    """Reserved signs, endings, devices and lengths are each named."""
    found = list(name_faults([name]))
    assert [at for at, _ in found] == [name]
    assert words in found[0][1]


def test_names_that_every_system_takes_pass():
    """Ordinary names, spaces and accents inside, and near misses of device names are fine."""
    names = ["READ ME FIRST.txt", "CHARTS/Lake 01/console.idx", "com10.bin", "naïve.dat", "x" * 255, "a.b.c"]
    assert list(name_faults(names)) == []


def test_names_that_differ_by_capitals_are_one_file_on_some_systems():
    """The second of two names that fold alike is told with the first, folders too; composed accents fold alike."""
    assert list(name_faults(["Data/a", "data/b"])) == [
        ("data/b", "cannot be told from Data on a system that knows no capitals")
    ]
    assert folded("É.txt") == folded("e\N{COMBINING ACUTE ACCENT}.TXT")


def test_a_long_path_is_told():
    """A path of more than 256 signs does not open everywhere."""
    assert [words for _, words in name_faults(["/".join(["folder"] * 40)])] == [
        "is 279 signs long with its folders; some systems take 256"
    ]


def test_a_full_folder_is_told():
    """A name of 14 to 26 signs takes three entries of 65,536: 21,846 of them are one too many."""
    names = [f"photos/p-{number:010d}.jpg" for number in range(21_846)]
    assert list(name_faults(names)) == [("photos", "needs 65,538 directory entries; a FAT32 folder holds 65,536")]
    assert list(name_faults(names[:-1])) == []


def test_a_file_over_the_limit_of_fat32_is_told():
    """4 GiB less one byte is the most."""
    assert list(size_faults({"a": MOST_FILE_BYTES})) == []
    assert list(size_faults({"a": 2**32})) == [
        ("a", "has 4,294,967,296 bytes; a FAT32 card takes 4,294,967,295 a file")
    ]
