package org.layroom.device.bus;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.layroom.device.pace.Pace;
import org.tinylog.Logger;

/**
 * 1-wire through the kernel: {@code /sys/bus/w1/devices/28-*}{@code /w1_slave} (Linux kernel
 * documentation, {@code Documentation/w1/slaves/w1_therm.rst}). Needs {@code dtoverlay=w1-gpio} in
 * the Pi's {@code config.txt}.
 *
 * <p>Whoever reads such a file waits in the kernel for the conversion, and there one thermometer
 * waits for the other: two take 1.54 s on Linux 6.1, asked one by one or at once. Where its file
 * {@code therm_bulk_read} may be written, all convert in one go.
 */
public final class KernelOneWire implements OneWire {
  public static final Path DEVICES = Path.of("/sys/bus/w1/devices");

  /** Family code 0x28 is the DS18B20's (data sheet, "64-bit lasered ROM code"). */
  private static final Pattern DS18B20_ID = Pattern.compile("28-[0-9a-f]{1,12}");

  /** w1_therm.rst: "trigger" has every thermometer of a bus convert; waits until they have. */
  private static final String BULK_READ = "therm_bulk_read";

  private static final int LONGEST_TEXT = 1024;

  /** What was read ahead longer ago does not tell of now. */
  private static final Duration STALE = Duration.ofSeconds(10);

  private final Path devices;
  private final Pace pace;
  private final Map<String, Conversion> begun = new ConcurrentHashMap<>();

  /** A conversion under way, or over and not yet asked for. */
  private record Conversion(FutureTask<String> text, Duration since) {}

  /**
   * The kernel's list of 1-wire devices.
   *
   * @param devices {@link #DEVICES} on a Pi
   * @param pace whose running time tells how old a conversion is
   */
  public KernelOneWire(Path devices, Pace pace) {
    this.devices = devices;
    this.pace = pace;
  }

  /**
   * Has every thermometer that is there read ahead, each on a thread of its own, so that the next
   * {@link #slaveText} waits only for what is left. Waits for nothing.
   */
  public void readAhead() {
    try {
      ids().forEach(id -> begun.computeIfAbsent(id, this::converting));
    } catch (BusFault e) {
      Logger.debug("Thermometers cannot be read in the background: {}", e.reason());
    }
  }

  private Conversion converting(String id) {
    Callable<String> reading = () -> text(id);
    FutureTask<String> text = new FutureTask<>(reading);
    Thread thread = new Thread(text, "layroom-1-wire-" + id);
    thread.setDaemon(true);
    thread.start();
    return new Conversion(text, pace.uptime());
  }

  @Override
  public void convertAll() {
    begun.values().removeIf(this::isStale);
    if (!begun.isEmpty()) {
      return;
    }
    try (Stream<Path> list = Files.isDirectory(devices) ? Files.list(devices) : Stream.empty()) {
      for (Path master : list.toList()) {
        Path bulk = master.resolve(BULK_READ);
        if (Files.isWritable(bulk)) {
          Files.writeString(bulk, "trigger\n", StandardOpenOption.WRITE);
        }
      }
    } catch (IOException | UncheckedIOException e) {
      Logger.debug("Thermometers convert one by one: {}", e.getMessage());
    }
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

  /** Of what was begun ahead, ten seconds ago at most, or else of a conversion that begins now. */
  @Override
  public String slaveText(String id) throws BusFault {
    Conversion conversion = begun.remove(id);
    if (conversion == null || isStale(conversion)) {
      return text(id);
    }
    try {
      return conversion.text().get();
    } catch (ExecutionException e) {
      throw e.getCause() instanceof BusFault fault
          ? fault
          : new BusFault("thermometer " + id + " does not answer", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new BusFault("stopped while measuring", e);
    }
  }

  private boolean isStale(Conversion conversion) {
    return pace.uptime().minus(conversion.since()).compareTo(STALE) > 0;
  }

  private String text(String id) throws BusFault {
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
