package org.layroom.dashboard.answer;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.util.List;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.material.TemperatureRange;

/**
 * Says each room's mix check on MQTT, retained, every minute of the room's time and whenever the
 * broker, which may keep nothing over its end, is connected anew: with {@code validUntil}, so that
 * a dashboard that has died leaves no standing "ready to mix". The can's temperatures are said too,
 * so that the lamps of a device keep to them when the dashboard is away.
 */
public final class VerdictPublisher implements AutoCloseable {
  private static final Duration EVERY = Duration.ofMinutes(1);
  private static final Duration LOOK = Duration.ofSeconds(5);
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final DashboardCore core;
  private final RoomAnswers answers;
  private final RoomLines lines;
  private final List<Pace.Scheduled> tasks;
  private volatile long connects;

  private VerdictPublisher(DashboardCore core, RoomAnswers answers, RoomLines lines, Pace pace) {
    this.core = core;
    this.answers = answers;
    this.lines = lines;
    this.tasks = List.of(pace.every(EVERY, this::sayAll), pace.every(LOOK, this::look));
  }

  /** Begins to say the verdicts. */
  public static VerdictPublisher start(
      DashboardCore core, RoomAnswers answers, RoomLines lines, Pace pace) {
    return new VerdictPublisher(core, answers, lines, pace);
  }

  private void look() {
    if (core.link().connects() != connects) {
      sayAll();
    }
  }

  private void sayAll() {
    connects = core.link().connects();
    MaterialShelf.Entry material = answers.shelf().find(answers.place().material()).orElseThrow();
    for (RoomName room : core.rooms()) {
      ObjectNode said = answers.check(room, material);
      lines.checked(room, said);
      TemperatureRange can = material.material().temperatureCOrTypical();
      said.putObject("temperatureC").put("min", can.min()).put("max", can.max());
      core.publish(Topic.verdict(room), bytes(said), true);
    }
  }

  private static byte[] bytes(ObjectNode json) {
    try {
      return JSON.writeValueAsBytes(json);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
  }

  @Override
  public void close() {
    tasks.forEach(Pace.Scheduled::cancel);
  }
}
