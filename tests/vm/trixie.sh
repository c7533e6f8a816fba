#!/bin/bash
# trixie.sh: builds everything and runs the quick tests in a Debian 13 root of its own, against the
# libraries of that release (libgpiod 2, newer spdlog and toml++). Needs root. The root is kept in
# the cache, the build under build/trixie. Ends as `./bootstrap quick` does.
. "$(dirname "$0")/roots.sh"

make_root root-trixie trixie
enter_root /tripline/bootstrap quick trixie
