#!/bin/sh
# Plans the three samples. Installs what is missing (Debian 12, as root or with sudo), builds in build/, and
# says where the packets are.
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh
need "build the program" cmake:cmake ninja:ninja-build gcc:gcc pkg-config:pkg-config
need "link the program" /usr/include/glpk.h:libglpk-dev /usr/include/cjson/cJSON.h:libcjson-dev \
    /usr/include/pango-1.0/pango/pangocairo.h:libpango1.0-dev /usr/include/cairo/cairo.h:libcairo2-dev /usr/include/sqlite3.h:libsqlite3-dev \
    /usr/include/microhttpd.h:libmicrohttpd-dev
need "set text in drawings" /usr/share/fonts/truetype/dejavu/DejaVuSans.ttf:fonts-dejavu-core
install_needed

mkdir -p build
[ -f build/CMakeCache.txt ] || cmake -S . -B build -G Ninja -D DW_TESTS=OFF >build/build.log 2>&1 || { cat build/build.log; exit 1; }
cmake --build build --target drawerwright >build/build.log 2>&1 || { tail -n 60 build/build.log; exit 1; }

for job in plan-chest seed-cabinet service-bench; do
    mkdir -p "build/samples/$job"
    build/drawerwright plan "samples/$job.json" -o "build/samples/$job" --quiet >/dev/null
    echo "Planned $job: build/samples/$job/report.txt"
done
echo "The packets are build/samples/*/packet.pdf; start with build/samples/plan-chest/packet.pdf."
