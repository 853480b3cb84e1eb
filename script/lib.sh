# shellcheck shell=bash
# shellcheck disable=SC2034 # the package lists are for the scripts that source this
#
# Shared by the scripts beside it; sourced, never run.
#
# Each script says what it is doing in one plain line a step, on standard error, and keeps the
# output of the tools in build/log/, of which it shows the end when a step fails.

cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1
export LC_ALL=C.UTF-8
CMAKE_BUILD_PARALLEL_LEVEL=${CMAKE_BUILD_PARALLEL_LEVEL:-$(nproc)}
export CMAKE_BUILD_PARALLEL_LEVEL

build_packages=(
  ca-certificates g++ cmake ninja-build
  libgtest-dev libgmock-dev libbenchmark-dev librapidcheck-dev
  libeigen3-dev libfmt-dev nlohmann-json3-dev libcli11-dev libssl-dev libsodium-dev
  libharfbuzz-bin fonts-noto-core # the printed page's letters
  libboost1.81-dev # not libboost-dev: that is 1.74 here, and the two exclude each other
)
test_packages=(poppler-utils zbar-tools libxml2-utils openssl chromium)
lint_packages=(clang clang-format clang-tidy shellcheck)
fuzz_packages=(clang libclang-rt-14-dev)
wasm_packages=(emscripten)

say() { printf '%s\n' "$*" >&2; }
now() { date +%s.%N; }
since() { awk -v a="$1" -v b="$(now)" 'BEGIN { printf "%.1f", b - a }'; }

# Installs the Debian packages that are missing; asks nobody but dpkg when none is.
install_packages() {
  local missing=() have package as_root=()
  have=$(dpkg-query -W -f='${db:Status-Status} ${Package}\n' "$@" 2>/dev/null) || true
  for package in "$@"; do
    grep -qx "installed $package" <<<"$have" || missing+=("$package")
  done
  ((${#missing[@]})) || return 0
  if ! command -v apt-get >/dev/null; then
    say "Please install these Debian 12 packages, then try again: ${missing[*]}"
    exit 1
  fi
  if ((EUID != 0)); then
    if ! command -v sudo >/dev/null || ! { [[ -t 0 ]] || sudo -n true 2>/dev/null; }; then
      say "Only root may install packages; please have these installed, then try again: ${missing[*]}"
      exit 1
    fi
    as_root=(sudo)
  fi
  say "Installing Debian packages: ${missing[*]}"
  logged apt-update "${as_root[@]}" apt-get update -qq
  logged apt-install "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get install -qq -y --no-install-recommends "${missing[@]}"
}

# Node runs the lints, the parity and schema tests and nothing of the product. One that is already
# there is kept if it is new enough, wherever it came from.
node_packages() {
  local major=0
  if command -v node >/dev/null; then major=$(node -p 'parseInt(process.versions.node)'); fi
  ((major >= 18)) || echo nodejs
  command -v npm >/dev/null || echo npm
}

# The npm packages exactly as package-lock.json names them; nothing to do if it has not changed.
install_npm() {
  local stamp=node_modules/.installed-from
  cmp -s package-lock.json "$stamp" && return 0
  say "Installing npm packages from package-lock.json"
  logged npm npm ci --no-audit --no-fund
  cp package-lock.json "$stamp"
}

# Third-party sources (script/sources.txt) into build/third_party/PACKAGE, once. Debian's tools
# fetch and check them; their lists and caches live in build/sources, since a fresh machine's apt
# knows binary packages only and its set-up is not ours to change.
fetch_sources() {
  cmp -s script/sources.txt build/third_party/.fetched-from && return 0
  say "Fetching third-party sources from Debian's source packages"
  logged sources unpack_sources
  cp script/sources.txt build/third_party/.fetched-from
}

unpack_sources() {
  local own=$PWD/build/sources target=$PWD/build/third_party package version sha256 parts apt
  apt=(apt-get -q -o Dir::Etc::SourceList=/dev/null -o "Dir::Etc::SourceParts=$own/etc"
    -o "Dir::State::Lists=$own/lists" -o "Dir::Cache=$own/cache"
    -o "APT::Sandbox::User=$(id -un)")
  rm -rf "$own" "$target"
  mkdir -p "$own/etc" "$own/lists/partial" "$own/cache/archives/partial" "$target"
  source_lists "$own/etc"
  "${apt[@]}" update || return 1
  while read -r package version sha256 parts; do
    [[ $package == '#'* ]] && continue
    (unpack_source) || return 1
  done <script/sources.txt
  rm -rf "$own"
}

# One package, with what unpack_sources knows of it.
unpack_source() {
  local part tarball
  mkdir -p "$own/$package" "$target/$package"
  cd "$own/$package" || return 1
  "${apt[@]}" source --download-only --tar-only "$package=$version" || return 1
  tarball=$(echo "$package"_*.orig.tar.*z*)
  # CMake unpacks every kind of tarball without further programs.
  sha256sum --check <<<"$sha256  $tarball" && cmake -E tar xf "$tarball" || return 1
  for part in $parts; do
    mv ./*/"$part" "$target/$package/" || return 1
  done
}

# source_lists FOLDER: apt's sources of binary packages, rewritten there to name source packages.
source_lists() {
  local file
  for file in /etc/apt/sources.list.d/*.sources; do
    [[ -r $file ]] && sed -E 's/^Types:.*/Types: deb-src/' "$file" >"$1/${file##*/}"
  done
  for file in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
    [[ -r $file ]] && sed -En 's/^deb(-src)?([[:space:]])/deb-src\2/p' "$file" >"$1/${file##*/}"
  done
  return 0
}

# logged NAME COMMAND...: output to build/log/NAME.txt; on failure shows its end and ends the script.
logged() { attempt "$@" || exit 1; }

# attempt NAME COMMAND...: the same, but returns the command's failure to the caller.
attempt() {
  local log=build/log/$1.txt status=0
  shift
  mkdir -p build/log
  "$@" >"$log" 2>&1 </dev/null || status=$?
  if ((status)); then
    tail -n 60 "$log" >&2
    say "This failed (status $status): $*"
    say "All of its output: $log"
  fi
  return "$status"
}

# build PRESET [TARGET...]: configures only when the presets are newer than the last time; CMake
# itself notices every other change.
build() {
  local preset=$1 targets=()
  shift
  (($# == 0)) || targets=(--target "$@")
  fetch_sources || return 1
  if [[ ! -f build/$preset/build.ninja || CMakePresets.json -nt build/$preset/CMakeCache.txt ]]; then
    attempt "configure-$preset" cmake --preset "$preset" || return 1
    touch "build/$preset/CMakeCache.txt"
  fi
  attempt "build-$preset" cmake --build --preset "$preset" "${targets[@]}"
}

# The phone app, into web/dist: the engine as WebAssembly, then web/ around it. Nothing to do when
# nothing that goes into it is newer than what the last build made last.
build_app() {
  local node stamp=web/node_modules/.installed-from last=web/dist/service-worker.js.gz
  mapfile -t node < <(node_packages)
  install_packages "${wasm_packages[@]}" "${node[@]}"
  build wasm || return 1
  if ! cmp -s web/package-lock.json "$stamp"; then
    say "Installing npm packages from web/package-lock.json"
    attempt npm-app npm --prefix web ci --no-audit --no-fund || return 1
    cp web/package-lock.json "$stamp"
  fi
  if [[ ! -f $last ]] || [[ -n $(find web examples data/messages build/wasm/apps/wasm/drawoff.wasm CMakeLists.txt \
    \( -path web/node_modules -o -path web/dist -o -path web/generated \) -prune -o \
    -type f -newer "$last" -print -quit) ]]; then
    attempt build-app npm --prefix web run --silent build
  fi
}
