package org.layroom.device;

import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.layroom.device.alarm.AlarmLines;
import org.layroom.device.publishing.BrokerAddress;
import org.layroom.device.sampling.CleanAir;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.predictor.fumes.CleanAirReading;
import org.layroom.predictor.fumes.VaporSensor;
import org.layroom.predictor.fumes.WatchSettings;
import org.layroom.predictor.fumes.WatchSettings.Place;

/**
 * The settings of a device, from a properties file.
 *
 * @param data folder for the outbox
 * @param samplePeriod 1 s to 1 h
 * @param speed seconds simulated in one real second; 1 without {@code --simulate}
 * @param molds thermometers named on purpose: id by name; the name is empty for the only mold
 * @param resin the thermometer in the resin can
 * @param cleanAir what the VOC chip read in clean air, and when
 * @param place in the layup room, or on the house side of its door, where nothing quiets an alarm
 * @param alarm the lines of lamps, buzzer and mute button
 */
record DeviceConfig(
    Channel channel,
    BrokerAddress broker,
    Path data,
    Duration samplePeriod,
    double speed,
    SortedMap<String, String> molds,
    Optional<String> resin,
    Optional<CleanAir> cleanAir,
    Place place,
    Optional<AlarmLines> alarm) {

  private static final Pattern MOLD_KEY = Pattern.compile("mold\\.(?:([^.]+)\\.)?sensor");
  private static final String KEYS =
      "room, device, broker.uri, broker.user, broker.password-file, data, sample-seconds, speed,"
          + " mold.sensor, mold.NAME.sensor, resin.sensor, clean-air.raw, clean-air.time, alarm.place, "
          + String.join(", ", AlarmLines.KEYS);

  private static final Duration LEAST_SILENCE = Duration.ofSeconds(30);
  private static final Duration MOST_SILENCE = Duration.ofMinutes(10);

  private static final Set<String> OPTIONAL =
      Set.of(
          "broker.user", "broker.password-file", "resin.sensor", "clean-air.raw", "clean-air.time");

  private static final Map<String, String> DEFAULTS =
      Map.of(
          "room", "shop",
          "device", "bench",
          "broker.uri", "mqtt://localhost:1883",
          "data", "data/device",
          "alarm.place", "work-room",
          "sample-seconds", "10",
          "speed", "1");

  /**
   * Reads settings; what is left out has its default.
   *
   * @throws IllegalArgumentException when a key or a value cannot be used; says which and why
   */
  static DeviceConfig of(Properties properties) {
    SortedMap<String, String> molds = new TreeMap<>();
    for (String key : properties.stringPropertyNames()) {
      Matcher mold = MOLD_KEY.matcher(key);
      if (mold.matches()) {
        String name = mold.group(1) == null ? "" : DeviceName.of(mold.group(1)).value();
        molds.put(name, properties.getProperty(key).strip());
      } else if (!DEFAULTS.containsKey(key)
          && !OPTIONAL.contains(key)
          && !AlarmLines.KEYS.contains(key)) {
        throw new IllegalArgumentException("unknown setting \"" + key + "\"; known are " + KEYS);
      }
    }
    return new DeviceConfig(
        Channel.of(text(properties, "room"), text(properties, "device")),
        broker(properties),
        Path.of(text(properties, "data")),
        Duration.ofMillis(Math.round(1000 * number(properties, "sample-seconds", 1, 3600))),
        number(properties, "speed", 0.1, 10_000),
        molds,
        optional(properties, "resin.sensor"),
        cleanAir(properties),
        place(text(properties, "alarm.place")),
        AlarmLines.of(properties));
  }

  /** The same settings, with a clean-air reading where they have none. */
  DeviceConfig withCleanAirOr(CleanAir reading) {
    return new DeviceConfig(
        channel,
        broker,
        data,
        samplePeriod,
        speed,
        molds,
        resin,
        Optional.of(cleanAir.orElse(reading)),
        place,
        alarm);
  }

  private static Optional<CleanAir> cleanAir(Properties properties) {
    Optional<String> taken = optional(properties, "clean-air.time");
    if (taken.isPresent() != optional(properties, "clean-air.raw").isPresent()) {
      throw new IllegalArgumentException("clean-air.raw and clean-air.time belong together");
    }
    if (taken.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(
          new CleanAir(number(properties, "clean-air.raw", 1, 65_534), Instant.parse(taken.get())));
    } catch (DateTimeParseException e) {
      throw new IllegalArgumentException(
          "clean-air.time \"" + taken.get() + "\": write a time such as 2026-03-01T18:30:00Z", e);
    }
  }

  /** How the air is watched here; a slow schedule is not taken for silence. */
  WatchSettings watchSettings() {
    VaporSensor.Chip chip =
        cleanAir
            .map(reading -> CleanAirReading.of(reading.ticks(), reading.taken()))
            .map(VaporSensor.Chip::with)
            .orElseGet(VaporSensor.Chip::fresh);
    Duration silence = samplePeriod.multipliedBy(2);
    Duration longest =
        silence.compareTo(MOST_SILENCE) > 0
            ? MOST_SILENCE
            : silence.compareTo(LEAST_SILENCE) < 0 ? LEAST_SILENCE : silence;
    return new WatchSettings(chip, place, longest);
  }

  private static Place place(String text) {
    return switch (text) {
      case "work-room" -> Place.WORK_ROOM;
      case "house-side" -> Place.HOUSE_SIDE;
      default ->
          throw new IllegalArgumentException(
              "alarm.place \"" + text + "\": write work-room or house-side");
    };
  }

  private static BrokerAddress broker(Properties properties) {
    String uri = text(properties, "broker.uri");
    try {
      return new BrokerAddress(
          new URI(uri),
          optional(properties, "broker.user"),
          optional(properties, "broker.password-file").map(Path::of));
    } catch (URISyntaxException e) {
      throw new IllegalArgumentException(
          "broker.uri \"" + uri + "\" is not an address such as mqtt://localhost:1883", e);
    }
  }

  private static String text(Properties properties, String key) {
    return properties.getProperty(key, DEFAULTS.getOrDefault(key, "")).strip();
  }

  private static Optional<String> optional(Properties properties, String key) {
    return Optional.of(text(properties, key)).filter(value -> !value.isEmpty());
  }

  private static double number(Properties properties, String key, double least, double most) {
    String value = text(properties, key);
    try {
      double number = Double.parseDouble(value);
      if (number >= least && number <= most) {
        return number;
      }
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(outside(key, value, least, most), e);
    }
    throw new IllegalArgumentException(outside(key, value, least, most));
  }

  private static String outside(String key, String value, double least, double most) {
    return "%s \"%s\": write a number from %s to %s".formatted(key, value, least, most);
  }
}
