#!/bin/sh
# install.sh PROGRAM PREFIX: puts the program below PREFIX, with its manual page and what completes it in bash, zsh and fish.
set -eu
program=$1
prefix=$2
[ -x "$program" ] || { echo "install: there is no $program yet: make build" >&2; exit 1; }

# What Debian's zsh reads from packages lies elsewhere than what it reads from /usr/local.
case $prefix in
*/usr) zsh=$prefix/share/zsh/vendor-completions ;;
*) zsh=$prefix/share/zsh/site-functions ;;
esac
bash=$prefix/share/bash-completion/completions
fish=$prefix/share/fish/vendor_completions.d
man=$prefix/share/man/man1

install -d "$prefix/bin" "$man" "$bash" "$zsh" "$fish"
install -m 755 "$program" "$prefix/bin/valvegrade"

# text FILE ARGUMENT...: what the program prints, as a file that all may read; none when it fails.
text() {
    file=$1
    shift
    "$program" "$@" >"$file.new" || { rm "$file.new"; exit 1; }
    install -m 644 "$file.new" "$file"
    rm "$file.new"
}
text "$man/valvegrade.1" manual
gzip -9nf "$man/valvegrade.1"
text "$bash/valvegrade" completion bash
text "$zsh/_valvegrade" completion zsh
text "$fish/valvegrade.fish" completion fish
