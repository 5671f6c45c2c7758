package org.layroom.device.bus;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * 1-wire through the kernel: {@code /sys/bus/w1/devices/28-*}{@code /w1_slave} (Linux kernel
 * documentation, {@code Documentation/w1/slaves/w1_therm.rst}). Needs {@code dtoverlay=w1-gpio} in
 * the Pi's {@code config.txt}.
 */
public final class KernelOneWire implements OneWire {
  public static final Path DEVICES = Path.of("/sys/bus/w1/devices");

  /** Family code 0x28 is the DS18B20's (data sheet, "64-bit lasered ROM code"). */
  private static final Pattern DS18B20_ID = Pattern.compile("28-[0-9a-f]{1,12}");

  private static final int LONGEST_TEXT = 1024;

  private final Path devices;

  public KernelOneWire(Path devices) {
    this.devices = devices;
  }

  @Override
  public List<String> ids() throws BusFault {
    if (!Files.isDirectory(devices)) {
      return List.of();
    }
    try (Stream<Path> list = Files.list(devices)) {
      return list.map(path -> String.valueOf(path.getFileName()))
          .filter(name -> DS18B20_ID.matcher(name).matches())
          .sorted()
          .toList();
    } catch (IOException | UncheckedIOException e) {
      throw new BusFault("the 1-wire folder " + devices + " cannot be listed", e);
    }
  }

  @Override
  public String slaveText(String id) throws BusFault {
    if (!DS18B20_ID.matcher(id).matches()) {
      throw new BusFault("\"" + id + "\" is not a DS18B20 name such as 28-0316a279f1ff");
    }
    try (var in = Files.newInputStream(devices.resolve(id).resolve("w1_slave"))) {
      return new String(in.readNBytes(LONGEST_TEXT), StandardCharsets.ISO_8859_1);
    } catch (IOException e) {
      throw new BusFault("thermometer " + id + " does not answer", e);
    }
  }
}
