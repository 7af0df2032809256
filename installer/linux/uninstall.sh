#!/bin/sh
# Takes away what install.sh put into your home. Your books stay where they are, and so do your
# settings and the copies kept for recovery, in $XDG_DATA_HOME/countback (~/.local/share/countback).
set -eu
data=${XDG_DATA_HOME:-$HOME/.local/share}
place=$HOME/.local/lib/countback

# refresh: let the desktop read its lists anew, where it has the tools for that
refresh() {
    if [ -d "$data/mime/packages" ] && command -v update-mime-database >/dev/null 2>&1; then
        update-mime-database "$data/mime" >/dev/null 2>&1 || printf 'the list of kinds of file was not refreshed\n' >&2
    fi
    if [ -d "$data/applications" ] && command -v update-desktop-database >/dev/null 2>&1; then
        update-desktop-database "$data/applications" >/dev/null 2>&1 || printf 'the menu was not refreshed\n' >&2
    fi
    if [ -d "$data/icons/hicolor" ]; then
        touch "$data/icons/hicolor"
    fi
}

# is_bare FOLDER: nothing is in it but what the desktop's tools write by themselves
is_bare() {
    case $1 in
        "$data/mime") [ ! -d "$1/packages" ] ;;
        "$data/applications") [ -z "$(find "$1" -mindepth 1 ! -name mimeinfo.cache)" ] ;;
        *) [ -z "$(find "$1" -mindepth 1)" ] ;;
    esac
}

if [ "${1:-}" = --refresh ]; then
    refresh
    exit 0
fi
if [ ! -f "$place/written" ]; then
    printf 'uninstall: Countback is not installed in %s\n' "$place" >&2
    exit 2
fi
written=$(cat "$place/written")
printf '%s\n' "$written" | while IFS= read -r line; do
    case $line in
        "file "*) rm -f "${line#file }" ;;
    esac
done
rm -rf "$place"
refresh
# Deepest first: the longest path.
printf '%s\n' "$written" | sed -n 's/^folder //p' | awk '{ print length($0) " " $0 }' | sort -rn |
    cut -d' ' -f2- | while IFS= read -r folder; do
    if [ -d "$folder" ] && is_bare "$folder"; then
        rm -rf "$folder"
    fi
done
if [ "${1:-}" != --quiet ]; then
    printf 'Countback is gone. Books stay where they are'
    if [ -d "$data/countback" ]; then
        printf '; settings and copies kept for recovery are in %s' "$data/countback"
    fi
    printf '.\n'
fi
