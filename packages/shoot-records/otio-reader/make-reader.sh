#!/usr/bin/env bash
# Makes `.otio-reader/read-timeline`, with which the tests read our timelines by the standard's own C++ library. Debian has that
# library from its testing suite on; it is unpacked beside its own C library, and nothing is installed. Without Debian, a
# compiler or a network nothing is made, and the tests that want the reader say that they are skipped.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
suite=forky
packages=(libopentimelineio0 libopentimelineio-dev libimath-3-2-30 libimath-dev libc6 libstdc++6 libgcc-s1)
target=.otio-reader

give_up() {
  echo "No OpenTimelineIO reader was made ($1): the tests that want it will be skipped."
  exit 0
}

[[ -x $target/read-timeline ]] && exit 0
for tool in apt-get dpkg g++; do command -v "$tool" >/dev/null || give_up "$tool is missing"; done
# The mirror that this machine takes its Debian from.
mirror=$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' 'Origin: Debian' 'Label: Debian' | sort -u | head -n 1)
[[ -n $mirror ]] || give_up "no Debian package lists"

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$work"/{lists/partial,cache/archives/partial,debs,root}
echo "deb [signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] $mirror $suite main" >"$work/sources.list"
options=(-qq -o Dir::Etc::sourcelist="$work/sources.list" -o Dir::Etc::sourceparts=/dev/null -o Dir::State::lists="$work/lists"
  -o Dir::Cache="$work/cache" -o APT::Sandbox::User="$(id -un)" -o Acquire::Retries=1 -o Acquire::http::Timeout=15)
timeout 60 apt-get "${options[@]}" update >/dev/null 2>&1 || give_up "the package lists of $suite cannot be had"
(cd "$work/debs" && timeout 60 apt-get "${options[@]}" download "${packages[@]/%//$suite}" >/dev/null 2>&1) ||
  give_up "the packages cannot be had"
for package in "$work"/debs/*.deb; do dpkg -x "$package" "$work/root"; done

libraries=$(dirname "$(find "$work/root/usr/lib" -name 'libopentimelineio.so' | head -n 1)")
loader=$(basename "$(find "$libraries" -name 'ld-linux*' | head -n 1)")
headers=$work/root/usr/include
# The library is newer than this machine's C++ runtime, so its own is taken when the program runs.
g++ -std=c++17 -O0 -I"$headers" -I"$headers/Imath" otio-reader/read-timeline.cc -o "$work/read-timeline" \
  "$libraries"/libopentimelineio.so "$libraries"/libopentime.so -Wl,--allow-shlib-undefined || give_up "it did not compile"

rm -rf "$target"
mkdir -p "$target/lib"
cp -L "$libraries"/{"$loader",libopentimelineio.so.*,libopentime.so.*,libImath*.so.*,libstdc++.so.6,libgcc_s.so.1,libc.so.6,libm.so.6} "$target/lib/"
cp "$work/read-timeline" "$target/program"
cat >"$target/read-timeline" <<RUN
#!/bin/sh
here=\$(dirname "\$0")
exec "\$here/lib/$loader" --library-path "\$here/lib" "\$here/program" "\$@"
RUN
chmod +x "$target/read-timeline"
"$target/read-timeline" || give_up "it does not run"
echo "Made an OpenTimelineIO reader from Debian's packages."
