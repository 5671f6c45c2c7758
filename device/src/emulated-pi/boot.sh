#!/bin/bash
# Boots the emulated Raspberry Pi 3B. Usage: boot.sh FOLDER APP
# FOLDER is what build.sh made; APP becomes /app. Its serial line is this program's input and output.
# The host's loopback is 10.0.2.2 to it. It is stopped after 40 minutes in any case.
set -euo pipefail
folder=$1
app=$2
(cd "$app/.." && find "$(basename "$app")" | cpio -o -H newc --quiet) >"$folder/app.cpio"
cat "$folder/root.cpio" "$folder/app.cpio" >"$folder/initrd"
exec timeout --kill-after=5 2400 qemu-system-aarch64 -M raspi3b -kernel "$folder/vmlinuz" -dtb "$folder/pi.dtb" -initrd "$folder/initrd" \
  -append "console=ttyAMA0,115200 loglevel=3 panic=-1 mitigations=off" -no-reboot -display none -monitor none -serial stdio \
  -device usb-net,netdev=host -netdev user,id=host
