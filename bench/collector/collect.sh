#!/bin/sh
# Collects what this machine says of itself into one plain text file, for `bench intake FILE`.
#
#   sh collect.sh            writes machine-DAY-TIME.txt here
#   sh collect.sh FILE       writes FILE; one that is there already is left alone
#   sh collect.sh -          writes to standard output
#
# It only reads. It writes that one file and nothing else, and sends nothing anywhere. Run it as root from a boot
# stick: without root the machine tells less. A tool that is missing is a line in the file. The file holds serial
# numbers: keep it as you keep those.

set -u
set -C # never over a file that is there
umask 077
LC_ALL=C
PATH="$PATH:/usr/local/sbin:/usr/sbin:/sbin"
export LC_ALL PATH

# A tool that hangs on a broken part is ended, where there is a program for that.
if command -v timeout >/dev/null 2>&1; then
    limited() { timeout 60 "$@"; }
else
    limited() { "$@"; }
fi

# section NAME VERSION EXIT TEXT: one section, its checksum with it so that damage shows.
section() {
    printf 'section %s\nversion %s\nexit %s\n' "$1" "$2" "$3"
    printf 'cksum %s\n' "$(printf '%s\n' "$4" | cksum | cut -d ' ' -f 1,2)"
    printf '%s\n' "$4" | sed 's/^/| /'
    printf 'end\n'
}

missing() {
    printf 'section %s\nmissing\nend\n' "$1"
}

first_line() {
    "$@" 2>/dev/null </dev/null | sed -n '1p' | tr -cd '[:print:]'
}

# tool NAME ABOUT VERSION-OPTION COMMAND...: what the command prints on standard output.
tool() {
    name=$1 about=$2 option=$3
    shift 3
    if ! command -v "$1" >/dev/null 2>&1; then
        missing "$name"
        return
    fi
    said=$(limited "$@" 2>/dev/null </dev/null)
    code=$?
    section "$name${about:+ $about}" "$(first_line "$1" "$option")" "$code" "$said"
}

# text NAME FILE: what the kernel says in a file of its own.
text() {
    if [ ! -r "$2" ]; then
        missing "$1"
        return
    fi
    said=$(cat "$2" 2>/dev/null)
    section "$1" kernel "$?" "$said"
}

firmware_names() {
    for file in sys_vendor product_name product_version product_serial bios_vendor bios_version bios_date \
        chassis_type board_vendor board_name; do
        if [ -r "/sys/class/dmi/id/$file" ]; then
            printf '%s=%s\n' "$file" "$(cat "/sys/class/dmi/id/$file" 2>/dev/null)"
        fi
    done
}

supplies() {
    for supply in /sys/class/power_supply/*/uevent; do
        if [ -r "$supply" ]; then
            cat "$supply" 2>/dev/null
        fi
    done
    true
}

network_devices() {
    for device in /sys/class/net/*; do
        if [ -d "$device/wireless" ] || [ -e "$device/phy80211" ]; then
            printf '%s wireless\n' "${device##*/}"
        elif [ -e "$device/device" ]; then
            printf '%s wired\n' "${device##*/}"
        fi
    done
    true
}

# kernel NAME FOLDER FUNCTION: what a function reads below a folder.
kernel() {
    if [ ! -d "$2" ]; then
        missing "$1"
        return
    fi
    said=$("$3")
    section "$1" kernel "$?" "$said"
}

screens() {
    found=no
    for file in /sys/class/drm/*/edid; do
        [ -r "$file" ] || continue
        said=$(od -An -v -tx1 "$file" 2>/dev/null)
        code=$?
        [ -n "$said" ] || continue
        found=yes
        port=${file%/edid}
        section "edid ${port##*/}" kernel "$code" "$said"
    done
    [ "$found" = yes ] || missing edid
}

# The drives built in: not a stick, not what other drives are made of.
drives() {
    for drive in /sys/block/*; do
        name=${drive##*/}
        case $name in
        loop* | ram* | zram* | sr* | fd* | dm-* | md* | nbd* | '*') continue ;;
        esac
        case $(cd -P "$drive" 2>/dev/null && pwd -P) in
        */usb*) continue ;;
        esac
        printf '%s\n' "$name"
    done
}

collect() {
    printf 'bench collector 1\n'
    printf 'at %s\n' "$(date -u '+%Y-%m-%dT%H:%M:%SZ')"
    printf 'root %s\n' "$([ "$(id -u)" = 0 ] && echo yes || echo no)"
    tool dmidecode '' --version dmidecode
    kernel dmi /sys/class/dmi/id firmware_names
    text cpuinfo /proc/cpuinfo
    text meminfo /proc/meminfo
    tool lsblk '' --version lsblk -J -b -d -o NAME,TYPE,SIZE,MODEL,SERIAL,VENDOR,TRAN,ROTA,RM,HOTPLUG
    tool lspci '' --version lspci -mm -nn
    kernel power_supply /sys/class/power_supply supplies
    tool upower '' --version upower -d
    screens
    kernel net /sys/class/net network_devices
    if [ -d /sys/firmware/acpi/tables ]; then # their names alone: a key that lies in one is not read
        said=$(ls /sys/firmware/acpi/tables 2>/dev/null)
        section acpi kernel "$?" "$said"
    else
        missing acpi
    fi
    if command -v smartctl >/dev/null 2>&1; then
        for drive in $(drives); do
            tool smartctl "/dev/$drive" --version smartctl -a -j "/dev/$drive"
        done
    else
        missing smartctl
    fi
    if command -v nvme >/dev/null 2>&1; then
        for drive in $(drives); do
            case $drive in
            nvme*) tool nvme "/dev/$drive" version nvme smart-log -o json "/dev/$drive" ;;
            esac
        done
    else
        missing nvme
    fi
    printf 'collected\n'
}

out=${1:-machine-$(date -u '+%Y%m%d-%H%M%S').txt}
if [ "$out" = - ]; then
    collect
elif { collect >"$out"; } 2>/dev/null; then
    printf 'Wrote %s. Give it to: bench intake %s\n' "$out" "$out"
else
    printf 'collect.sh: %s cannot be written, or it is there already.\n' "$out" >&2
    exit 1
fi
