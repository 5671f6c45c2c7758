#!/bin/bash
# Makes what an emulated Raspberry Pi 3B boots: Debian's kernel, a small Java, two simulated buses.
# Usage: build.sh FOLDER. What is there already is kept; with everything there it takes a second.
# Needs a JDK 17, and: qemu-system-arm gcc-12-aarch64-linux-gnu make cpio device-tree-compiler bc
set -eEuo pipefail
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$1"
cd "$1"
folder=$PWD
debian_mirror_lists() { grep -ls debian-archive-keyring /etc/apt/sources.list.d/*.sources || true; }

check_host() {
  local missing=""
  for program in aarch64-linux-gnu-gcc-12:gcc-12-aarch64-linux-gnu qemu-system-aarch64:qemu-system-arm \
    make:make cpio:cpio fdtput:device-tree-compiler bc:bc; do
    command -v "${program%:*}" >/dev/null || missing="$missing ${program#*:}"
  done
  if [ -n "$missing" ]; then
    echo "The emulated Pi needs: apt-get install --no-install-recommends$missing" >&2
    exit 1
  fi
  if ! jlink --version | grep -q '^17\.'; then
    echo "The emulated Pi needs the jlink of a JDK 17 on the path; this one is $(jlink --version)" >&2
    exit 1
  fi
}

# arm64 packages come through an apt of its own, so that the host learns no second architecture.
download() {
  local apt=$folder/apt
  rm -rf packages
  mkdir -p "$apt"/{etc/sources.d,lists/partial,cache/archives/partial} packages
  : >"$apt/status"
  : >"$apt/etc/sources.list"
  debian_mirror_lists | xargs -r -I{} cp {} "$apt/etc/sources.d/"
  [ -n "$(ls "$apt/etc/sources.d")" ] || cp /etc/apt/sources.list "$apt/etc/sources.list"
  cat >"$apt/conf" <<CONF
APT::Architecture "arm64"; APT::Architectures { "arm64"; }; APT::Sandbox::User "root"; Acquire::Languages "none";
Dir::State "$apt"; Dir::State::status "$apt/status"; Dir::State::lists "$apt/lists"; Dir::Cache "$apt/cache";
Dir::Etc::sourcelist "$apt/etc/sources.list"; Dir::Etc::sourceparts "$apt/etc/sources.d";
CONF
  (
    export APT_CONFIG=$apt/conf
    apt-get -qq update
    image=$(apt-cache depends linux-image-arm64 | awk '/Depends:/ {print $2; exit}')
    kernel=${image#linux-image-}
    echo "$kernel" >"$folder/kernel-version"
    cd packages
    apt-get -qq download "$image" "linux-headers-$kernel" "linux-headers-${kernel%-arm64}-common" \
      openjdk-17-jre-headless openjdk-17-jdk-headless libc6 libgcc-s1 zlib1g libstdc++6 busybox-static
  )
  kernel=$(cat kernel-version)
  (cd packages && apt-get -qq -o APT::Sandbox::User=root download qemu-user-static \
    "linux-kbuild-$(grep -oE '^[0-9]+\.[0-9]+' <<<"$kernel"):$(dpkg --print-architecture)")
}

unpack() {
  rm -rf kernel headers jdk libraries user-emulator
  mkdir kernel headers jdk libraries user-emulator
  dpkg-deb -x packages/linux-image-*.deb kernel
  for package in packages/linux-headers-*.deb packages/linux-kbuild-*.deb; do dpkg-deb -x "$package" headers; done
  for package in packages/openjdk-17-*.deb; do dpkg-deb -x "$package" jdk; done
  for package in libc6 libgcc-s1 zlib1g libstdc++6 busybox-static; do dpkg-deb -x packages/"${package}"_*.deb libraries; done
  dpkg-deb -x packages/qemu-user-static_*.deb user-emulator
  local tree=headers/usr/src/linux-headers-$kernel
  sed -i "s#^include .*#include $folder/headers/usr/src/linux-headers-${kernel%-arm64}-common/Makefile#" "$tree/Makefile"
  cp "kernel/boot/vmlinuz-$kernel" vmlinuz
  cp "kernel/usr/lib/linux-image-$kernel/broadcom/bcm2837-rpi-3-b.dtb" pi.dtb
  # without its Bluetooth child the serial port stays a plain console
  fdtput -r pi.dtb /soc/serial@7e201000/bluetooth
}

# A class data archive, made here under user emulation, spares the emulated Pi seconds at each start.
small_java() {
  local libraries=system/lib/aarch64-linux-gnu
  rm -rf java system
  jlink --module-path jdk/usr/lib/jvm/java-17-openjdk-arm64/jmods --output java --strip-java-debug-attributes \
    --no-man-pages --no-header-files --add-modules \
    java.base,java.desktop,java.logging,java.management,java.naming,java.prefs,java.sql,java.xml,jdk.unsupported
  mkdir -p "$libraries"
  for name in libc.so.6 libm.so.6 libdl.so.2 libpthread.so.0 librt.so.1 ld-linux-aarch64.so.1 libgcc_s.so.1 libz.so.1 libstdc++.so.6; do
    cp -L "$(find libraries -name "$name" | head -1)" "$libraries/"
  done
  ln -sf aarch64-linux-gnu/ld-linux-aarch64.so.1 system/lib/ld-linux-aarch64.so.1
  user-emulator/usr/bin/qemu-aarch64-static -L system java/bin/java -XX:+UseSerialGC -Xshare:dump >/dev/null 2>&1
}

buses() {
  rm -rf modules
  mkdir modules
  cp "$here"/*.c modules/
  printf 'obj-m += bench_i2c.o bench_w1.o\n' >modules/Kbuild
  make -s -C "headers/usr/src/linux-headers-$kernel" "M=$folder/modules" ARCH=arm64 \
    CROSS_COMPILE=aarch64-linux-gnu- CC=aarch64-linux-gnu-gcc-12 modules >modules.log 2>&1 || { cat modules.log >&2; exit 1; }
}

# The files of the emulated Pi. The 1-wire core looks round every 2 s and forgets after 3 misses,
# so that a test need not wait the kernel's usual 100 s.
pack() {
  local name
  rm -rf root
  mkdir -p root/{bin,proc,sys,dev,tmp,etc,app,modules}
  cp -a system/lib root/
  cp -r java root/java
  cp libraries/bin/busybox root/bin/
  install -m 755 "$here/init" root/init
  while read -r name options; do
    case $name in
      bench_*) aarch64-linux-gnu-strip --strip-debug -o "root/modules/$name.ko" "modules/$name.ko" ;;
      *) cp "$(find kernel/lib/modules -name "$name.ko" | head -1)" root/modules/ ;;
    esac
    echo "$name $options" >>root/modules/order
  done <<ORDER
bcm2835_wdt
usb-common
usbcore
roles
udc-core
phy-generic
dwc2
mii
usbnet
cdc_ether
i2c-dev
wire timeout=2 slave_ttl=3
w1_therm
bench_i2c
bench_w1
ORDER
  (cd root && find . | cpio -o -H newc --quiet) >root.cpio
}

# step STAMP FUNCTION FILE...: done once for each content of the files, of the function and of the
# steps before it
before=""
step() {
  local stamp=$1 function=$2
  shift 2
  before=$({ echo "$before"; declare -f "$function"; cat "$@" /dev/null; } | sha256sum | cut -c 1-16)
  [ -e "done/$stamp-$before" ] && return
  rm -f "done/$stamp-"*
  $function
  mkdir -p done
  : >"done/$stamp-$before"
  printf 'emulated Pi: %s after %d s\n' "$stamp" "$SECONDS"
}

check_host
no_download() {
  [ "$BASH_SUBSHELL" = 0 ] || return 0
  echo "The emulated Pi cannot be made: Debian's arm64 packages could not be downloaded (see above)." >&2
  echo "It needs Debian's package archive within reach, or a folder made earlier: -Dlayroom.emulated-pi=FOLDER" >&2
}
trap no_download ERR
step downloaded download
trap - ERR
kernel=$(cat kernel-version)
step unpacked unpack
step java small_java
step buses buses "$here"/*.c
step packed pack "$here/init"
