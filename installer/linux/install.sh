#!/bin/sh
# Puts Countback into your own home, needs no root:
#
#     sh install.sh
#
# The program goes to ~/.local/lib/countback, its command to ~/.local/bin/countback, its entry in the
# menu, its icons and its kind of file to $XDG_DATA_HOME (~/.local/share). What is written is listed
# in ~/.local/lib/countback/written; uninstall.sh beside it takes all of that away again.
set -eu
umask 022
here=$(cd "$(dirname "$0")" && pwd -P)
data=${XDG_DATA_HOME:-$HOME/.local/share}
place=$HOME/.local/lib/countback
command=$HOME/.local/bin/countback
id=internal.countback.countback

stop() {
    printf 'install: %s\n' "$*" >&2
    exit 2
}

[ -x "$here/countback" ] || stop "run it in the folder that was unpacked: no program lies beside it"
[ "$here" != "$place" ] || stop "this is the installed folder; run the install.sh of the new one"
case $HOME in
    /*) ;;
    *) stop "HOME is not set to a folder" ;;
esac
if [ -e "$command" ] && [ "$(readlink "$command" || true)" != "$place/countback" ]; then
    stop "another program is called $command; move it away first"
fi

# made FOLDER: make it and its parents, and note those that were not there
made() {
    if [ ! -d "$1" ]; then
        made "$(dirname "$1")"
        mkdir "$1"
        printf 'folder %s\n' "$1" >>"$place.new/written"
    fi
}

# put FILE TARGET
put() {
    made "$(dirname "$2")"
    cp "$1" "$2"
    printf 'file %s\n' "$2" >>"$place.new/written"
}

# The folders that are not there yet, and those that an older install had made.
folders=""
folder=$(dirname "$place")
while [ ! -d "$folder" ]; do
    folders="folder $folder
$folders"
    folder=$(dirname "$folder")
done
if [ -f "$place/written" ]; then
    folders="$folders$(grep '^folder ' "$place/written" || true)
"
fi
mkdir -p "$(dirname "$place")"
rm -rf "$place.new"
cp -R "$here" "$place.new"
printf '%s' "$folders" >"$place.new/written"
if [ -f "$place/written" ]; then
    sh "$place/uninstall.sh" --quiet
fi

for picture in "$here"/share/icons/*/countback.*; do
    size=$(basename "$(dirname "$picture")")
    put "$picture" "$data/icons/hicolor/$size/apps/$id.${picture##*.}"
done
put "$here/share/$id.mime.xml" "$data/mime/packages/$id.xml"
put "$here/share/$id.metainfo.xml" "$data/metainfo/$id.metainfo.xml"
made "$data/applications"
entry=$data/applications/$id.desktop
printf 'file %s\n' "$entry" >>"$place.new/written"
# As the Desktop Entry Specification has it: quoted for Exec, then escaped as any value is.
value=$(printf '%s' "$place/countback" | sed 's/\\/\\\\/g')
quoted=$(printf '%s' "$place/countback" | sed 's/[\\"`$]/\\&/g; s/%/%%/g; s/\\/\\\\/g')
V="$value" Q="\"$quoted\"" awk '{
    for (name in changes) delete changes[name]
    changes["@PROGRAM@"] = ENVIRON["Q"]; changes["@PLACE@"] = ENVIRON["V"]
    for (name in changes)
        if (at = index($0, name))
            $0 = substr($0, 1, at - 1) changes[name] substr($0, at + length(name))
    print
}' "$here/share/$id.desktop" >"$entry"
made "$(dirname "$command")"
printf 'file %s\n' "$command" >>"$place.new/written"
ln -sf "$place/countback" "$command"
rm -rf "$place"
mv "$place.new" "$place"
sh "$place/uninstall.sh" --refresh

printf 'Countback is installed. In the menu it is called Countback; the command is %s\n' "$command"
case ":$PATH:" in
    *":$(dirname "$command"):"*) ;;
    *) printf 'Add %s to your PATH to type it as countback.\n' "$(dirname "$command")" ;;
esac
printf 'To take it away: sh %s/uninstall.sh\n' "$place"
