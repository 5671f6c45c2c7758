package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Body of a {@code status} message. The will of every device is {@link #OFFLINE}.
 *
 * @param since when the device came online; empty when its clock is not set
 * @param faults the parts that do not work now, with the reason
 * @param offsets what values are corrected by now
 * @param markWait how long the device waits for its stored mark before it sends again; empty for a
 *     device of the first version, which waits 30 s
 * @param clock whether its wall clock is set; empty for a device that does not say
 */
public record DeviceStatus(
    boolean online,
    Optional<Instant> since,
    List<PartFault> faults,
    List<SensorOffset> offsets,
    Optional<Duration> markWait,
    Optional<Clock> clock) {
  private static final String MARK_WAIT = "markWaitSeconds";
  private static final String CLOCK_SET = "clockSet";
  private static final String CLOCK_SET_AT = "clockSetAt";

  /** What the broker says for a device that has gone without a word. */
  public static final DeviceStatus OFFLINE =
      new DeviceStatus(
          false, Optional.empty(), List.of(), List.of(), Optional.empty(), Optional.empty());

  public DeviceStatus {
    faults = List.copyOf(faults);
    offsets = List.copyOf(offsets);
  }

  /** A device that corrects nothing, and does not say how long it waits. */
  public DeviceStatus(boolean online, Optional<Instant> since, List<PartFault> faults) {
    this(online, since, faults, List.of(), Optional.empty(), Optional.empty());
  }

  /** The same, saying whether its clock is set. */
  public DeviceStatus clock(Clock told) {
    return new DeviceStatus(online, since, faults, offsets, markWait, Optional.of(told));
  }

  /**
   * The wall clock of a device.
   *
   * @param set whether it is believed
   * @param at when the network last set it; empty where the device cannot tell
   */
  public record Clock(boolean set, Optional<Instant> at) {}

  /** A part that does not work now. */
  public record PartFault(String part, String reason) {}

  public byte[] write() {
    ObjectNode node = JsonBody.object().put("state", online ? "online" : "offline");
    since.ifPresent(instant -> node.put("since", instant.toString()));
    if (online) {
      var list = node.putArray("faults");
      faults.forEach(f -> list.addObject().put("part", f.part()).put("reason", f.reason()));
      SensorOffset.write(node, offsets);
      markWait.ifPresent(wait -> node.put(MARK_WAIT, wait.toSeconds()));
      clock.ifPresent(
          told -> {
            node.put(CLOCK_SET, told.set());
            told.at().ifPresent(at -> node.put(CLOCK_SET_AT, at.toString()));
          });
    }
    return JsonBody.write(node);
  }

  /**
   * Reads a status.
   *
   * @throws MalformedMessage when the body is not a status
   */
  public static DeviceStatus read(byte[] body) throws MalformedMessage {
    JsonNode node = JsonBody.read(body);
    String state = node.path("state").asText();
    if (!state.equals("online") && !state.equals("offline")) {
      throw new MalformedMessage("state must be online or offline");
    }
    List<PartFault> faults = new ArrayList<>();
    for (JsonNode fault : node.path("faults")) {
      faults.add(new PartFault(fault.path("part").asText(), fault.path("reason").asText()));
    }
    return new DeviceStatus(
        state.equals("online"),
        time(node, "since"),
        faults,
        SensorOffset.read(node),
        markWait(node),
        node.path(CLOCK_SET).isBoolean()
            ? Optional.of(new Clock(node.path(CLOCK_SET).booleanValue(), time(node, CLOCK_SET_AT)))
            : Optional.empty());
  }

  /** What is no whole number of seconds counts as not said: that only costs earlier commits. */
  private static Optional<Duration> markWait(JsonNode node) {
    JsonNode said = node.path(MARK_WAIT);
    return said.canConvertToInt() && said.intValue() > 0
        ? Optional.of(Duration.ofSeconds(said.intValue()))
        : Optional.empty();
  }

  private static Optional<Instant> time(JsonNode node, String name) throws MalformedMessage {
    if (!node.has(name)) {
      return Optional.empty();
    }
    try {
      return Optional.of(Instant.parse(node.path(name).asText()));
    } catch (DateTimeParseException e) {
      throw new MalformedMessage(name + " must be an ISO 8601 time", e);
    }
  }
}
