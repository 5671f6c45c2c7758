package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.vapor.LeaveLevels;

/**
 * Body of a {@code settings} message: what was decided upstairs for one device. Retained, so that a
 * device hears it again at every connection; it takes what is newer than what it goes by.
 *
 * @param decided when the newest of these decisions was taken
 * @param by who took it; empty where nobody is named
 * @param mode what measures the vapor
 * @param eightHourPpm the chosen eight-hour limit, above 0, ppm; only for a detector
 * @param shortTermPpm the chosen short-term limit, not below the other, ppm; only for a detector
 * @param styreneFactor from an isobutylene reading to styrene, above 0; only for a detector
 * @param houseSide whether the device stands on the house side of the door: full warnings always
 * @param cleanAir the newest clean-air reading of this device's chip
 * @param leave from which level of its chip somebody must leave, as its jobs have taught; empty for
 *     a detector
 * @param wiping when solvent was last said to be wiped
 * @param job the job that is under way
 * @param offsets what sensors are corrected by, all that was decided upstairs
 * @param doubt why its vapor sensor is not believed, in words: it failed its bump test, or a cup
 *     brought no rise
 */
public record DeviceSettings(
    Instant decided,
    String by,
    Mode mode,
    double eightHourPpm,
    double shortTermPpm,
    double styreneFactor,
    boolean houseSide,
    Optional<CleanAir> cleanAir,
    Optional<LeaveLevels> leave,
    Optional<Instant> wiping,
    Optional<Job> job,
    List<SensorOffset> offsets,
    Optional<String> doubt) {
  /** What measures the vapor, and so which words may be used. */
  public enum Mode {
    /** A metal-oxide chip: times clean air, never ppm. */
    CHIP,
    /** A photoionization detector with a factor: about ppm as styrene. */
    PID;

    /** The name in messages and settings. */
    public String id() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * A clean-air reading taken on purpose.
   *
   * @param raw ticks, 1 to 65534
   */
  public record CleanAir(
      double raw, Instant taken, OptionalDouble temperatureC, OptionalDouble humidityPct) {
    public CleanAir {
      if (!(raw >= 1 && raw <= 65_534)) {
        throw new IllegalArgumentException(
            "clean-air reading " + raw + " ticks must be between 1 and 65534 ticks");
      }
    }
  }

  /** A job: until when at the latest, and what its person said is on. */
  public record Job(
      Instant started, Instant until, String who, boolean fanOn, boolean respiratorOn) {
    public Job {
      if (!until.isAfter(started)) {
        throw new IllegalArgumentException("job until " + until + " must be after " + started);
      }
    }
  }

  public DeviceSettings {
    offsets = List.copyOf(offsets);
    if (!(eightHourPpm > 0 && shortTermPpm >= eightHourPpm && shortTermPpm <= 1000)) {
      throw new IllegalArgumentException(
          "limits %s and %s ppm must be above 0, at most 1000, the short-term one not the lower"
              .formatted(eightHourPpm, shortTermPpm));
    }
    if (!(styreneFactor > 0 && styreneFactor <= 10)) {
      throw new IllegalArgumentException(
          "styrene factor " + styreneFactor + " must be above 0 and at most 10");
    }
  }

  /** The same, decided at another moment. */
  public DeviceSettings at(Instant when) {
    return new DeviceSettings(
        when,
        by,
        mode,
        eightHourPpm,
        shortTermPpm,
        styreneFactor,
        houseSide,
        cleanAir,
        leave,
        wiping,
        job,
        offsets,
        doubt);
  }

  public byte[] write() {
    ObjectNode node = JsonBody.object();
    node.put("decided", decided.toString()).put("by", by).put("mode", mode.id());
    node.putObject("limits")
        .put("eightHourPpm", eightHourPpm)
        .put("shortTermPpm", shortTermPpm)
        .put("styreneFactor", styreneFactor);
    node.put("place", houseSide ? "house-side" : "work-room");
    cleanAir.ifPresent(
        reading -> {
          ObjectNode one = node.putObject("cleanAir");
          one.put("raw", reading.raw()).put("taken", reading.taken().toString());
          reading.temperatureC().ifPresent(value -> one.put("temperatureC", value));
          reading.humidityPct().ifPresent(value -> one.put("humidityPct", value));
        });
    leave.ifPresent(
        levels ->
            node.putObject("leave").put("inJob", levels.inJob()).put("outside", levels.outside()));
    wiping.ifPresent(at -> node.put("wiping", at.toString()));
    job.ifPresent(
        one ->
            node.putObject("job")
                .put("started", one.started().toString())
                .put("until", one.until().toString())
                .put("who", one.who())
                .put("fanOn", one.fanOn())
                .put("respiratorOn", one.respiratorOn()));
    SensorOffset.write(node, offsets);
    doubt.ifPresent(words -> node.put("doubt", words));
    return JsonBody.write(node);
  }

  /**
   * Reads settings.
   *
   * @throws MalformedMessage when the body is not settings, or a value is out of its range
   */
  public static DeviceSettings read(byte[] body) throws MalformedMessage {
    JsonNode node = JsonBody.read(body);
    JsonNode limits = node.path("limits");
    try {
      return new DeviceSettings(
          AlarmState.time(node.path("decided")),
          node.path("by").asText(),
          Mode.valueOf(node.path("mode").asText().toUpperCase(Locale.ROOT)),
          limits.path("eightHourPpm").asDouble(),
          limits.path("shortTermPpm").asDouble(),
          limits.path("styreneFactor").asDouble(),
          node.path("place").asText().equals("house-side"),
          node.has("cleanAir") ? Optional.of(cleanAir(node.path("cleanAir"))) : Optional.empty(),
          node.has("leave") ? Optional.of(leave(node.path("leave"))) : Optional.empty(),
          node.has("wiping") ? Optional.of(AlarmState.time(node.path("wiping"))) : Optional.empty(),
          node.has("job") ? Optional.of(job(node.path("job"))) : Optional.empty(),
          SensorOffset.read(node),
          Optional.of(node.path("doubt").asText()).filter(words -> !words.isBlank()));
    } catch (IllegalArgumentException e) {
      throw new MalformedMessage("settings: " + e.getMessage(), e);
    }
  }

  private static LeaveLevels leave(JsonNode node) {
    return new LeaveLevels(node.path("inJob").asDouble(), node.path("outside").asDouble());
  }

  private static CleanAir cleanAir(JsonNode node) throws MalformedMessage {
    return new CleanAir(
        node.path("raw").asDouble(),
        AlarmState.time(node.path("taken")),
        optional(node.path("temperatureC")),
        optional(node.path("humidityPct")));
  }

  private static Job job(JsonNode node) throws MalformedMessage {
    return new Job(
        AlarmState.time(node.path("started")),
        AlarmState.time(node.path("until")),
        node.path("who").asText(),
        node.path("fanOn").asBoolean(),
        node.path("respiratorOn").asBoolean());
  }

  private static OptionalDouble optional(JsonNode node) {
    return node.isNumber() ? OptionalDouble.of(node.doubleValue()) : OptionalDouble.empty();
  }
}
