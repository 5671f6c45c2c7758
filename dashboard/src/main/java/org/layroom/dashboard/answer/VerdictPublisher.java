package org.layroom.dashboard.answer;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.material.TemperatureRange;

/**
 * Says each room's mix check on MQTT, retained, every minute of the room's time: with {@code
 * validUntil}, so that a dashboard that has died leaves no standing "ready to mix". The can's
 * temperatures are said too, so that the lamps of a device keep to them when the dashboard is away.
 */
public final class VerdictPublisher implements AutoCloseable {
  private static final Duration EVERY = Duration.ofMinutes(1);
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final DashboardCore core;
  private final RoomAnswers answers;
  private final Pace.Scheduled task;

  private VerdictPublisher(DashboardCore core, RoomAnswers answers, Pace pace) {
    this.core = core;
    this.answers = answers;
    this.task = pace.every(EVERY, this::sayAll);
  }

  /** Begins to say the verdicts. */
  public static VerdictPublisher start(DashboardCore core, RoomAnswers answers, Pace pace) {
    return new VerdictPublisher(core, answers, pace);
  }

  private void sayAll() {
    MaterialShelf.Entry material = answers.shelf().find(answers.place().material()).orElseThrow();
    for (RoomName room : core.rooms()) {
      ObjectNode said = answers.check(room, material);
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
    task.cancel();
  }
}
