package org.layroom.device.config;

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
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.layroom.device.alarm.AlarmLines;
import org.layroom.device.publishing.BrokerAddress;
import org.layroom.device.publishing.BrokerLogin;
import org.layroom.device.publishing.BrokerPassword;
import org.layroom.device.sampling.CleanAir;
import org.layroom.device.sampling.Offset;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;
import org.layroom.predictor.vapor.WatchSettings.Place;

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
 * @param alarm the lines of lamps, buzzer, mute button and fan
 * @param offsets by series, or by id for a thermometer
 * @param chips of the kinds of chip that need settings
 * @param i2cBuses where chips are looked for, by number, lowest first
 */
public record DeviceConfig(
    Channel channel,
    BrokerAddress broker,
    Path data,
    Duration samplePeriod,
    double speed,
    SortedMap<String, String> molds,
    Optional<String> resin,
    Optional<CleanAir> cleanAir,
    Place place,
    Optional<AlarmLines> alarm,
    Map<String, Offset> offsets,
    ChipSettings chips,
    SortedSet<Integer> i2cBuses) {

  private static final Pattern OFFSET_KEY =
      Pattern.compile(
          "offset\\.(temperature|humidity|mold-temperature(?:/[a-z0-9-]{1,32})?|28-[0-9a-f]{1,12})");

  private static final Pattern MOLD_KEY = Pattern.compile("mold\\.(?:([^.]+)\\.)?sensor");
  private static final String KEYS =
      "room, device, broker.uri, broker.user, broker.password-file, broker.ca-file,"
          + " data, sample-seconds, speed,"
          + " mold.sensor, mold.NAME.sensor, resin.sensor, clean-air.raw, clean-air.time,"
          + " i2c.buses, alarm.place,"
          + " offset.NAME, offset.NAME.date, "
          + String.join(", ", AlarmLines.KEYS)
          + ", "
          + String.join(", ", ChipSettings.KEYS);

  private static final Duration LEAST_SILENCE = Duration.ofSeconds(30);
  private static final Duration MOST_SILENCE = Duration.ofMinutes(10);

  private static final Set<String> OPTIONAL =
      Set.of(
          "broker.user",
          "broker.password-file",
          "broker.ca-file",
          "resin.sensor",
          "clean-air.raw",
          "clean-air.time");

  private static final Map<String, String> DEFAULTS =
      Map.ofEntries(
          Map.entry("room", "shop"),
          Map.entry("device", "bench"),
          Map.entry("broker.uri", "mqtt://localhost:1883"),
          Map.entry("data", "data/device"),
          Map.entry("i2c.buses", "1"),
          Map.entry("alarm.place", "work-room"),
          Map.entry("sample-seconds", "10"),
          Map.entry("speed", "1"));

  /**
   * Reads settings; what is left out has its default.
   *
   * @throws IllegalArgumentException when a key or a value cannot be used; says which and why
   */
  public static DeviceConfig of(Properties properties) {
    return of(properties, true);
  }

  /** Where a device of these settings keeps its data, whatever else is written there. */
  public static Path dataFolder(Properties properties) {
    return Path.of(new SettingsText(properties, DEFAULTS).text("data"));
  }

  /** The same without the login that pairing has kept, for pairing anew. */
  public static DeviceConfig toBePaired(Properties properties) {
    return of(properties, false);
  }

  private static DeviceConfig of(Properties properties, boolean paired) {
    Map<String, String> defaults = new TreeMap<>(DEFAULTS);
    defaults.putAll(ChipSettings.DEFAULTS);
    SettingsText text = new SettingsText(properties, defaults);
    SortedMap<String, String> molds = new TreeMap<>();
    for (String key : properties.stringPropertyNames()) {
      Matcher mold = MOLD_KEY.matcher(key);
      if (mold.matches()) {
        String name = mold.group(1) == null ? "" : DeviceName.of(mold.group(1)).value();
        molds.put(name, properties.getProperty(key).strip());
      } else if (!known(key)) {
        throw new IllegalArgumentException("unknown setting \"" + key + "\"; use one of " + KEYS);
      }
    }
    Channel channel = Channel.of(text.text("room"), text.text("device"));
    requireOneRoleEach(molds, text.optional("resin.sensor"));
    return new DeviceConfig(
        channel,
        broker(text, channel, paired),
        Path.of(text.text("data")),
        Duration.ofMillis(Math.round(1000 * text.number("sample-seconds", 1, 3600))),
        text.number("speed", 0.1, 10_000),
        molds,
        text.optional("resin.sensor"),
        cleanAir(text),
        place(text.text("alarm.place")),
        AlarmLines.of(properties),
        offsets(text, properties),
        ChipSettings.of(text),
        buses(text.text("i2c.buses")));
  }

  private static SortedSet<Integer> buses(String text) {
    SortedSet<Integer> buses = new TreeSet<>();
    for (String one : text.split(",", -1)) {
      if (!one.strip().matches("[0-9]{1,2}")) {
        throw new IllegalArgumentException(
            "i2c.buses \"" + text + "\": enter numbers of I2C buses, such as 1 or 1,3");
      }
      buses.add(Integer.parseInt(one.strip()));
    }
    return buses;
  }

  /** A thermometer is in one place only. */
  private static void requireOneRoleEach(Map<String, String> molds, Optional<String> resin) {
    Map<String, String> roles = new TreeMap<>();
    resin.ifPresent(id -> roles.put(id, "resin.sensor"));
    molds.forEach(
        (name, id) -> {
          String role = name.isEmpty() ? "mold.sensor" : "mold." + name + ".sensor";
          String other = roles.putIfAbsent(id, role);
          if (other != null) {
            throw new IllegalArgumentException(
                role + " \"" + id + "\": this thermometer is already named by " + other);
          }
        });
  }

  private static boolean known(String key) {
    return DEFAULTS.containsKey(key)
        || OPTIONAL.contains(key)
        || AlarmLines.KEYS.contains(key)
        || ChipSettings.KEYS.contains(key)
        || OFFSET_KEY.matcher(key.replaceFirst("\\.date$", "")).matches();
  }

  private static Map<String, Offset> offsets(SettingsText text, Properties properties) {
    Map<String, Offset> offsets = new TreeMap<>();
    for (String key : properties.stringPropertyNames()) {
      Matcher offset = OFFSET_KEY.matcher(key);
      if (offset.matches()) {
        offsets.put(
            offset.group(1),
            new Offset(text.number(key, -Offset.MOST, Offset.MOST), text.day(key + ".date")));
      }
    }
    return offsets;
  }

  /** The same settings, with a clean-air reading where they have none. */
  public DeviceConfig withCleanAirOr(CleanAir reading) {
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
        alarm,
        offsets,
        chips,
        i2cBuses);
  }

  /** The same with the thermometers of a simulated bench named, where none is. */
  public DeviceConfig withThermometersOr(String mold, String can) {
    return molds.isEmpty() && resin.isEmpty()
        ? new DeviceConfig(
            channel,
            broker,
            data,
            samplePeriod,
            speed,
            new TreeMap<>(Map.of("", mold)),
            Optional.of(can),
            cleanAir,
            place,
            alarm,
            offsets,
            chips,
            i2cBuses)
        : this;
  }

  private static Optional<CleanAir> cleanAir(SettingsText text) {
    Optional<String> taken = text.optional("clean-air.time");
    if (taken.isPresent() != text.optional("clean-air.raw").isPresent()) {
      throw new IllegalArgumentException("set both clean-air.raw and clean-air.time, or neither");
    }
    if (taken.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(
          new CleanAir(text.number("clean-air.raw", 1, 65_534), Instant.parse(taken.get())));
    } catch (DateTimeParseException e) {
      throw new IllegalArgumentException(
          "clean-air.time \"" + taken.get() + "\": enter a time such as 2026-03-01T18:30:00Z", e);
    }
  }

  /** How the air is watched here; a slow schedule is not taken for silence. */
  public WatchSettings watchSettings() {
    VaporSensor sensor =
        chips
            .pid()
            .calibration()
            .map(by -> (VaporSensor) new VaporSensor.Pid(chips.pid().limit(), by.styreneFactor()))
            .orElseGet(this::chip);
    Duration silence = samplePeriod.multipliedBy(2);
    Duration longest =
        silence.compareTo(MOST_SILENCE) > 0
            ? MOST_SILENCE
            : silence.compareTo(LEAST_SILENCE) < 0 ? LEAST_SILENCE : silence;
    return new WatchSettings(sensor, place, longest);
  }

  private VaporSensor chip() {
    return cleanAir
        .map(reading -> CleanAirReading.of(reading.ticks(), reading.taken()))
        .map(VaporSensor.Chip::with)
        .orElseGet(VaporSensor.Chip::fresh);
  }

  private static Place place(String words) {
    return switch (words) {
      case "work-room" -> Place.WORK_ROOM;
      case "house-side" -> Place.HOUSE_SIDE;
      default ->
          throw new IllegalArgumentException(
              "alarm.place \"" + words + "\": enter work-room or house-side");
    };
  }

  /** The login in the settings goes first, then the one that pairing has kept. */
  private static BrokerAddress broker(SettingsText text, Channel channel, boolean paired) {
    Optional<Path> caFile = text.optional("broker.ca-file").map(Path::of);
    if (paired && text.optional("broker.user").isEmpty()) {
      Optional<BrokerAddress> login = BrokerLogin.kept(Path.of(text.text("data")), channel, caFile);
      if (login.isPresent()) {
        return login.get();
      }
    }
    return new BrokerAddress(
        address(text.text("broker.uri")),
        text.optional("broker.user"),
        text.optional("broker.password-file").map(Path::of).map(BrokerPassword.InFile::new),
        caFile);
  }

  /** An address as written. */
  public static URI address(String uri) {
    try {
      return new URI(uri);
    } catch (URISyntaxException e) {
      throw new IllegalArgumentException(
          "broker.uri \"" + uri + "\": enter an address such as mqtt://localhost:1883", e);
    }
  }

  /** Whether the settings themselves, and not pairing, say how to come in. */
  public boolean namesBrokerUser() {
    return broker.user().isPresent();
  }
}
