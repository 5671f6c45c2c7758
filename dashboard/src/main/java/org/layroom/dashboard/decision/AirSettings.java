package org.layroom.dashboard.decision;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.HashSet;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.VaporSensor;

/**
 * What people have decided about the air of a room.
 *
 * @param mode what measures it, and so which words may be used anywhere
 * @param limit the workplace limit that was chosen; counts only for a detector and for predictions
 * @param styreneFactor from a detector's isobutylene reading to styrene, above 0, at most 10
 * @param volumeM3 of the room, where somebody has said it
 * @param houseSide devices on the house side of the door: always the full warnings
 * @param decided when the newest of these was decided
 * @param by who decided it
 */
public record AirSettings(
    Mode mode,
    ExposureLimit limit,
    double styreneFactor,
    OptionalDouble volumeM3,
    Set<DeviceName> houseSide,
    Instant decided,
    String by) {
  /** Nobody has decided anything yet. */
  public static final AirSettings FIRST =
      new AirSettings(
          Mode.CHIP,
          ExposureLimit.untilChosen(),
          VaporSensor.Pid.USUAL_FACTOR,
          OptionalDouble.empty(),
          Set.of(),
          Instant.EPOCH,
          "");

  private static final double LARGEST_M3 = 100_000;

  public AirSettings {
    houseSide = Set.copyOf(houseSide);
    if (!(styreneFactor > 0 && styreneFactor <= 10)) {
      throw new IllegalArgumentException(
          "styrene factor " + styreneFactor + " must be above 0 and at most 10");
    }
    if (volumeM3.isPresent()
        && !(volumeM3.getAsDouble() > 0 && volumeM3.getAsDouble() <= LARGEST_M3)) {
      throw new IllegalArgumentException(
          "room volume " + volumeM3.getAsDouble() + " m3 must be above 0 and at most 100000 m3");
    }
  }

  /** The same, decided by somebody at a moment. */
  public AirSettings decided(Instant when, String who) {
    return new AirSettings(mode, limit, styreneFactor, volumeM3, houseSide, when, who);
  }

  public AirSettings withMode(Mode value) {
    return new AirSettings(value, limit, styreneFactor, volumeM3, houseSide, decided, by);
  }

  public AirSettings withLimit(ExposureLimit value) {
    return new AirSettings(mode, value, styreneFactor, volumeM3, houseSide, decided, by);
  }

  public AirSettings withStyreneFactor(double value) {
    return new AirSettings(mode, limit, value, volumeM3, houseSide, decided, by);
  }

  public AirSettings withVolumeM3(double value) {
    return new AirSettings(
        mode, limit, styreneFactor, OptionalDouble.of(value), houseSide, decided, by);
  }

  /** The same with one device on the house side of the door, or back in the layup room. */
  public AirSettings withHouseSide(DeviceName device, boolean there) {
    Set<DeviceName> devices = new HashSet<>(houseSide);
    if (there) {
      devices.add(device);
    } else {
      devices.remove(device);
    }
    return new AirSettings(mode, limit, styreneFactor, volumeM3, devices, decided, by);
  }

  /** As JSON, to be kept and to be shown. */
  public ObjectNode json() {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("mode", mode.id());
    node.putObject("limit")
        .put("id", limit.id())
        .put("eightHourPpm", limit.eightHourPpm())
        .put("shortTermPpm", limit.shortTermPpm());
    node.put("limitChosen", !limit.equals(ExposureLimit.untilChosen()));
    node.put("styreneFactor", styreneFactor);
    volumeM3.ifPresent(value -> node.put("volumeM3", value));
    var devices = node.putArray("houseSide");
    new TreeSet<>(houseSide.stream().map(DeviceName::value).toList()).forEach(devices::add);
    return node.put("decided", decided.toString()).put("by", by);
  }

  /** Reads what {@link #json()} wrote. */
  static AirSettings of(JsonNode node) {
    JsonNode limit = node.path("limit");
    Optional<ExposureLimit> listed = ExposureLimit.byId(limit.path("id").asText());
    Set<DeviceName> devices = new HashSet<>();
    node.path("houseSide").forEach(device -> devices.add(DeviceName.of(device.asText())));
    return new AirSettings(
        Mode.valueOf(node.path("mode").asText().toUpperCase(Locale.ROOT)),
        listed.orElseGet(
            () ->
                ExposureLimit.own(
                    limit.path("eightHourPpm").asDouble(), limit.path("shortTermPpm").asDouble())),
        node.path("styreneFactor").asDouble(),
        node.has("volumeM3")
            ? OptionalDouble.of(node.path("volumeM3").asDouble())
            : OptionalDouble.empty(),
        devices,
        Instant.parse(node.path("decided").asText()),
        node.path("by").asText());
  }
}
