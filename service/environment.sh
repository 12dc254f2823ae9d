# Sourced by service/run and tests/run: makes or refreshes .venv from the pinned, hashed requirements.
# Usage: prepare_environment NAME REQUIREMENTS   (NAME labels the stamp, so each list is installed once)

stop() { echo "Spile: $*" >&2; exit 1; }
say() { echo "Spile: $*" >&2; }

prepare_environment() {
  local name=$1 requirements=$2 python stamp wanted
  python=$(command -v python3) && "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' ||
    stop "needs Python 3.11 or newer as python3. On Debian or Ubuntu: apt-get install python3 python3-venv"
  if [ ! -x .venv/bin/pip ]; then
    "$python" -c 'import ensurepip, venv' 2>/dev/null ||
      stop "Python's venv module is incomplete. On Debian or Ubuntu: apt-get install python3-venv"
    say "making the environment in .venv"
    rm -rf .venv
    "$python" -m venv .venv || { rm -rf .venv; stop "could not make .venv; see the message above."; }
  fi
  # The folder is part of the stamp: an environment that was moved or copied has wrong paths inside.
  stamp=.venv/.installed-$name
  wanted=$(cat pyproject.toml "$requirements" <(pwd) | cksum)
  [ "$(cat "$stamp" 2>/dev/null)" = "$wanted" ] && return
  say "installing the packages in $requirements (the first time takes some minutes)"
  .venv/bin/pip install -q --disable-pip-version-check --require-hashes -r "$requirements" ||
    stop "a package could not be installed; check the network connection and run this again."
  .venv/bin/pip install -q --disable-pip-version-check --no-deps --no-build-isolation -e . ||
    stop "Spile itself could not be installed; see the message above."
  echo "$wanted" >"$stamp"
}
