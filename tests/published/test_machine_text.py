"""What a machine's tools print, read into values.

Sources: POSIX.1-2017 XCU `cksum`, its check value; DMTF DSP0134 for SMBIOS structures in the words of
dmidecode(8); VESA E-EDID release A for the base block; lsblk(8); lspci(8), "Machine readable output"; the
smart-log JSON of nvme-cli; upower(1); proc(5). All but `cksum` from memory, makers invented. Tolerance: none.
"""

from __future__ import annotations

import json
import math
import shutil
import subprocess
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.domain.condition.nvme_log import read_nvme_log
from bench.domain.machine.block_devices import read_lsblk
from bench.domain.machine.edid import bytes_of_dump, read_edid
from bench.domain.machine.kernel_text import read_cpuinfo, read_dmi_names, read_meminfo
from bench.domain.machine.nvme_health import read_nvme_json
from bench.domain.machine.pci_devices import read_lspci
from bench.domain.machine.sections import cksum
from bench.domain.machine.smbios import read_dmidecode
from bench.domain.machine.told import words
from bench.domain.machine.upower import read_upower
from bench.domain.specification import drive_size, memory_size
from bench.errors import BadInput
from tests.condition_files import nvme_log
from tests.machine_files import DMIDECODE, LSPCI, UPOWER, drive, dump, edid, lsblk_json

GIB = 2**30


def test_the_checksum_is_that_of_the_standard() -> None:
    # what `printf 123456789 | cksum` and `cksum </dev/null` print everywhere
    assert cksum(b"123456789") == 930_766_865
    assert cksum(b"") == 4_294_967_295


@pytest.mark.skipif(shutil.which("cksum") is None, reason="this machine has no cksum")
@settings(max_examples=25, deadline=None)
@given(st.binary(max_size=400))
def test_the_checksum_is_what_cksum_prints(data: bytes) -> None:
    printed = subprocess.run(["cksum"], input=data, capture_output=True, check=True).stdout
    assert printed.split()[:2] == [str(cksum(data)).encode(), str(len(data)).encode()]


def test_smbios_structures() -> None:
    machine = read_dmidecode(DMIDECODE)
    assert (machine.maker, machine.model, machine.serial) == ("Pell", "Wren 14", "PL900001")
    assert (machine.processor, machine.cores) == ("Quern Q5 @ 1.60 GHz", 4)
    assert (machine.firmware_version, machine.firmware_on) == ("N2X 1.42", date(2021, 3, 4))  # mm/dd/yyyy
    soldered, module = machine.modules
    assert (soldered.size_bytes, soldered.soldered, soldered.part) == (8 * GIB, True, "")
    assert (module.size_bytes, module.soldered, module.slot) == (8192 * 2**20, False, "ChannelB-DIMM0")
    assert machine.slots == 1
    assert machine.firmware_lock == "none seen"


@pytest.mark.parametrize(
    ("power_on", "administrator", "lock"),
    [
        # DSP0134, type 24: 00b Disabled, 01b Enabled, 10b Not Implemented, 11b Unknown
        ("Disabled", "Enabled", "locked"),
        ("Enabled", "Disabled", "locked"),
        ("Disabled", "Disabled", "none seen"),
        ("Disabled", "Not Implemented", None),
        ("Unknown", "Unknown", None),
    ],
)
def test_passwords_of_the_firmware(power_on: str, administrator: str, lock: str | None) -> None:
    text = (
        "Handle 0x0018, DMI type 24, 5 bytes\nHardware Security\n"
        f"\tPower-On Password Status: {power_on}\n\tAdministrator Password Status: {administrator}\n"
    )
    assert read_dmidecode(text).firmware_lock == lock


@pytest.mark.parametrize(
    ("size", "size_bytes", "slots"),
    [
        # DSP0134, type 17: MB or KB granularity, extended size; dmidecode prints the unit it fits
        ("16 GB", 16 * GIB, 1),
        ("16384 MB", 16 * GIB, 1),
        ("512 kB", 512 * 1024, 1),
        ("No Module Installed", None, 1),
        ("Unknown", None, 0),
        ("8 G", None, 0),  # cut
        ("999999999 TB", None, 0),  # no such module
    ],
)
def test_sizes_of_modules(size: str, size_bytes: int | None, slots: int) -> None:
    text = f"Handle 0x0011, DMI type 17, 84 bytes\nMemory Device\n\tSize: {size}\n\tForm Factor: SODIMM\n"
    machine = read_dmidecode(text)
    assert [module.size_bytes for module in machine.modules] == ([] if size_bytes is None else [size_bytes])
    assert machine.slots == slots


def test_processors_that_are_not_there_have_no_cores() -> None:
    # DSP0134, type 4: status bit 6, socket populated
    one = "Handle 0x0004, DMI type 4, 48 bytes\nProcessor Information\n\tStatus: {}\n\tCore Count: 6\n"
    one += "\tVersion: {}\n"
    text = one.format("Unpopulated", "No") + one.format("Populated, Enabled", "Quern")
    machine = read_dmidecode(text)
    assert (machine.processor, machine.cores) == ("Quern", 6)


@pytest.mark.parametrize(
    "placeholder",
    ["To Be Filled By O.E.M.", "Default string", "Not Specified", "00000000", "........", "N/A"],
)
def test_what_a_maker_left_as_it_was_is_no_serial_number(placeholder: str) -> None:
    # common practice, no source
    text = f"Handle 0x0001, DMI type 1, 27 bytes\nSystem Information\n\tSerial Number: {placeholder}\n"
    assert read_dmidecode(text).serial == words(placeholder) == ""


def test_the_base_block_of_a_screen() -> None:
    panel = read_edid(edid())
    assert (panel.maker, panel.product, panel.name) == ("PLQ", 0x1234, "PN14-FHD")
    assert (panel.pixels_across, panel.pixels_down) == (1920, 1080)
    assert panel.diagonal_mm == round(math.hypot(309, 174))  # 14.0 in
    assert read_edid(bytes_of_dump(dump(edid()))) == panel
    assert read_edid(edid() + bytes(128)) == panel  # an extension block follows


def test_the_maker_of_a_screen_is_three_letters_of_five_bits() -> None:
    # E-EDID, ID manufacturer name: bit 7 is 0, then 00001 = A to 11010 = Z, big endian
    assert edid("AAA")[8:10] == bytes((0b00000100, 0b00100001))
    assert read_edid(edid("AZA")).maker == "AZA"


def test_a_screen_without_an_image_size_is_measured_in_centimetres() -> None:
    # bytes 15h and 16h: 31 cm by 17 cm
    assert read_edid(edid(mm=(0, 0))).diagonal_mm == round(math.hypot(310, 170))


@pytest.mark.parametrize("at", [0, 9, 56, 126, 127])
def test_a_wrong_checksum_is_told(at: int) -> None:
    block = bytearray(edid())
    block[at] ^= 0x01
    with pytest.raises(BadInput, match=r"checksum is wrong|do not begin"):
        read_edid(bytes(block))


@pytest.mark.parametrize("length", [0, 7, 64, 127])
def test_a_cut_block_is_told(length: int) -> None:
    with pytest.raises(BadInput, match=f"there are {length}"):
        read_edid(edid()[:length])


def test_drives_built_in() -> None:
    text = lsblk_json(
        drive(),
        drive(name="sda", tran="sata", rota=True, model="Hobbin H5", serial="H1", size=500_107_862_016),
        drive(name="sdb", tran="usb"),
        drive(name="sdc", rm=True, tran="sata"),
        drive(name="sr0", type="rom"),
        drive(name="loop0", type="loop"),
        drive(name="zram0", size=0),
    )
    first, second = read_lsblk(text)
    assert (first.name, first.kind, first.serial, first.size_bytes) == (
        *("nvme0n1", "SSD, NVMe", "Q7001"),
        512_110_190_592,
    )
    assert (second.kind, drive_size(second.size_bytes)) == ("hard disk, SATA", "500 GB")


def test_drives_as_older_tools_write_them() -> None:
    # util-linux before 2.33 writes numbers and flags as text
    text = lsblk_json(drive(name="sda", size="256060514304", rota="0", rm="0", hotplug="0", tran="sata"))
    (only,) = read_lsblk(text)
    assert (only.size_bytes, only.kind) == (256_060_514_304, "SSD, SATA")
    assert read_lsblk(lsblk_json(drive(name="sda", rm="1"))) == ()


def test_graphics_and_wireless_by_their_class() -> None:
    devices = read_lspci(LSPCI)
    assert [one.code for one in devices] == ["0600", "0300", "0280"]
    assert [one.words for one in devices if one.draws] == ["Quern Graphics 20"]
    assert [one.words for one in devices if one.wireless] == ['Fenn Wireless "AX" 2x2']  # escaped by \
    (plain,) = read_lspci('00:02.0 "VGA compatible controller" "Quern" "Graphics 20" "" ""')
    assert plain.draws


def test_batteries_that_supply_the_machine() -> None:
    (battery,) = read_upower(UPOWER)
    assert (battery.words, battery.design_uwh) == ("Invented PK-57", 57_000_000)


def test_the_json_of_a_health_log_is_the_log_itself() -> None:
    log = read_nvme_log(nvme_log())
    told = {
        "critical_warning": 0,
        "temperature": 310,
        "avail_spare": 100,
        "spare_thresh": 10,
        "percent_used": 7,
        "data_units_read": 55_446_743,
        "data_units_written": "62,786,553",  # some write large numbers as text
        "host_read_commands": 346_082_272,
        "host_write_commands": 382_760_336,
        "controller_busy_time": 1224,
        "power_cycles": 348,
        "power_on_hours": 3191,
        "unsafe_shutdowns": 57,
        "media_errors": 0,
        "num_err_log_entries": 12,
        "warning_temp_time": 3,
        "critical_comp_time": 0,
    }
    figures = log.figures()
    figures.pop("sensors_c")
    assert read_nvme_json(json.dumps(told)).figures() == figures
    told["percent_used"] = 300  # a byte holds 255
    assert read_nvme_json(json.dumps(told)).used_percent is None


def test_the_kernels_own_text() -> None:
    two = "model name\t: Quern Q5\nphysical id\t: 0\ncpu cores\t: 4\n\nphysical id\t: 1\ncpu cores\t: 4\n"
    assert read_cpuinfo(two) == ("Quern Q5", 8)
    assert read_meminfo("MemTotal:       16165124 kB\n") == 16_165_124 * 1024
    names = read_dmi_names("sys_vendor=Pell\nproduct_name=Wren 14\nbios_date=13/01/2021\n")
    assert (names.maker, names.model, names.serial, names.firmware_on) == ("Pell", "Wren 14", "", None)


def test_sizes_as_labels_have_them() -> None:
    assert (memory_size(16 * GIB), memory_size(512 * 2**20)) == ("16 GB", "512 MB")
    assert (drive_size(512_110_190_592), drive_size(2_000_398_934_016)) == ("512 GB", "2 TB")


@pytest.mark.parametrize(
    ("read", "damaged"),
    [
        (read_dmidecode, "SMBIOS 3.2.0 present.\n"),
        (read_dmidecode, "Permission denied"),
        (read_lsblk, lsblk_json(drive())[:60]),
        (read_lsblk, '{"blockdevices": {}}'),
        (read_lsblk, "[1]"),
        (read_lspci, 'pcilib: Cannot open /proc/bus/pci\n00:02.0 "VGA'),
        (read_upower, "Failed to get bus"),
        (read_nvme_json, '{"critical_warning": 0, "temp'),
        (read_nvme_json, '{"critical_warning": 99}'),
        (read_nvme_json, "[]"),
        (read_cpuinfo, "processor\t: 0\n"),
        (read_meminfo, "MemTotal:       161651"),
        (read_dmi_names, "\n"),
        (bytes_of_dump, " 00 ff f"),
    ],
)
def test_damaged_text_is_one_sentence(read: object, damaged: str) -> None:
    assert callable(read)
    with pytest.raises(BadInput) as error:
        read(damaged)
    assert str(error.value).count("\n") == 0
