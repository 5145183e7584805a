# What .dev/run and .dev/test share: finding or installing what they need.
# Sourced, never run. Everything here may be repeated at no cost.

say() { printf '%s\n' "risewright: $*" >&2; }
die() { say "$*"; exit 1; }

cache=${XDG_CACHE_HOME:-${HOME:-/tmp}/.cache}/risewright

# The fyne window is C underneath: a compiler, OpenGL and the X11 headers.
window_packages="gcc libc6-dev pkg-config libgl1-mesa-dev libx11-dev libxcursor-dev libxrandr-dev libxinerama-dev libxi-dev libxxf86vm-dev"

as_root() {
	if [ "$(id -u)" = 0 ]; then
		"$@"
	elif command -v sudo >/dev/null 2>&1; then
		sudo "$@"
	else
		die "this needs root, and there is no sudo. As root, run:  $*"
	fi
}

# need_packages NAME...: install the Debian packages that are missing. Nothing
# is asked, not even a password, where all are there.
need_packages() {
	if ! command -v dpkg-query >/dev/null 2>&1; then
		say "not a Debian machine, so nothing is installed. Needed, by Debian's names: $*"
		return 0
	fi
	local missing=() name
	for name in "$@"; do
		case "$(dpkg-query -W -f='${db:Status-Abbrev}' "$name" 2>/dev/null)" in
		ii*|hi*) ;;
		*) missing+=("$name") ;;
		esac
	done
	[ ${#missing[@]} = 0 ] && return 0
	say "installing ${missing[*]}"
	local log
	log=$(mktemp)
	if ! { as_root apt-get update && as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "${missing[@]}"; } >"$log" 2>&1; then
		cat "$log" >&2
		rm -f "$log"
		die "apt-get could not install: ${missing[*]}"
	fi
	rm -f "$log"
}

# at_least HAVE WANT: whether version HAVE is WANT or later.
at_least() { [ "$(printf '%s\n%s\n' "$2" "$1" | sort -V | head -n 1)" = "$2" ]; }

go_version() { (cd / && "$1" env GOVERSION 2>/dev/null || true) | sed 's/^go//; s/[^0-9.].*//'; }

# need_go WANT: put a Go of version WANT or later on PATH. In turn: the one
# there; the one usually at /usr/local/go; what an earlier run kept in the
# cache; Debian's, which fetches the right one through the module proxy.
fetched_go=1.26.0
need_go() {
	local want=$1 have dir
	for dir in "" /usr/local/go/bin "$cache/go$fetched_go/bin"; do
		have=$(go_version "${dir:+$dir/}go")
		if [ -n "$have" ] && at_least "$have" "$want"; then
			[ -n "$dir" ] && export PATH="$dir:$PATH"
			return 0
		fi
	done
	command -v go >/dev/null 2>&1 || need_packages golang-go ca-certificates
	command -v go >/dev/null 2>&1 || die "Go $want or later is needed: install it from https://go.dev/dl and put its bin folder on PATH"
	local arch
	case "$(uname -m)" in
	x86_64) arch=amd64 ;;
	aarch64|arm64) arch=arm64 ;;
	*) die "Go $want or later is needed, and there is $(go version). Install one for $(uname -m) from https://go.dev/dl" ;;
	esac
	say "fetching Go $fetched_go (there is $(go_version go); $want or later is needed)"
	local work=$cache/fetch.$$
	mkdir -p "$work"
	# Outside any module, with a cache that may be moved. GOTOOLCHAIN=local: the
	# old go must not look for another by itself.
	if ! (cd "$work" && GOTOOLCHAIN=local GO111MODULE=on GOFLAGS=-modcacherw GOMODCACHE=$work/mod \
		go mod download "golang.org/toolchain@v0.0.1-go$fetched_go.linux-$arch") >"$work/log" 2>&1; then
		cat "$work/log" >&2
		rm -rf "$work"
		die "Go $want or later is needed and could not be fetched. Install it from https://go.dev/dl and put its bin folder on PATH"
	fi
	dir=$work/mod/golang.org/toolchain@v0.0.1-go$fetched_go.linux-$arch
	# A module carries no execute bits.
	chmod +x "$dir"/bin/* "$dir"/pkg/tool/linux_"$arch"/*
	rm -rf "$cache/go$fetched_go"
	mv "$dir" "$cache/go$fetched_go"
	rm -rf "$work"
	export PATH="$cache/go$fetched_go/bin:$PATH"
	have=$(go_version go)
	[ -n "$have" ] && at_least "$have" "$want" || die "the fetched Go does not run; install Go $want or later from https://go.dev/dl"
}

# The colour emoji font inside fyne is of no use here and is left out.
window_tags=no_emoji
# "ci" is fyne's own tag for its software driver: no window, no C.
plain_tags=ci,no_emoji

# build OUTPUT KIND: build the program. KIND is window, or plain, which opens
# no window and needs no C compiler. No flag that vet does not also get, such as
# -trimpath: the C parts would be built twice.
build() {
	mkdir -p "$(dirname "$1")"
	case $2 in
	window) CGO_ENABLED=1 go build -buildvcs=false -tags "$window_tags" -o "$1" ./app ;;
	plain) CGO_ENABLED=0 go build -buildvcs=false -tags "$plain_tags" -o "$1" ./app ;;
	esac
}
