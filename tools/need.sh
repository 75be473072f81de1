#!/bin/sh
# Makes sure that the programs which the tests use are there: installs them with apt-get where that is allowed, and
# otherwise names what is missing and fails.
set -eu
packages=""
for what in "$@"; do
	case $what in
	chromium) command -v chromium >/dev/null || packages="$packages chromium" ;;
	pdftoppm) command -v pdftoppm >/dev/null || packages="$packages poppler-utils" ;;
	qpdf) command -v qpdf >/dev/null || packages="$packages qpdf" ;;
	ezdxf) python3 -c 'import ezdxf' 2>/dev/null || /usr/bin/python3 -c 'import ezdxf' 2>/dev/null || packages="$packages python3-ezdxf" ;;
	ccx) command -v ccx >/dev/null || packages="$packages calculix-ccx" ;;
	gmsh) command -v gmsh >/dev/null || packages="$packages gmsh" ;;
	*) echo "need.sh: unknown program $what" >&2; exit 1 ;;
	esac
done
[ -n "$packages" ] || exit 0
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
	apt-get update -qq
	# shellcheck disable=SC2086 # a list of packages
	DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $packages
else
	echo "The tests need these Debian packages:$packages" >&2
	echo "Install them with: sudo apt-get install$packages" >&2
	exit 1
fi
