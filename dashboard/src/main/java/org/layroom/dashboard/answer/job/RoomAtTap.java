package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.job.JobBook;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.mix.OwnDose;

/** The room as it is when something is tapped, and what is predicted for a cup, to be kept. */
final class RoomAtTap implements JobBook.Surroundings {
  private final DashboardCore core;
  private final RoomAnswers answers;
  private final JobClocks clocks;

  RoomAtTap(DashboardCore core, RoomAnswers answers, JobClocks clocks) {
    this.core = core;
    this.answers = answers;
    this.clocks = clocks;
  }

  @Override
  public ObjectNode around(RoomName room, JobEvent event, Instant time) {
    ObjectNode around = JsonNodeFactory.instance.objectNode();
    RoomSnapshot snapshot = core.snapshot(room);
    ObjectNode values = around.putObject("room");
    for (Map.Entry<String, LiveValue> entry : new TreeMap<>(snapshot.values()).entrySet()) {
      LiveValue live = entry.getValue();
      if (live.reading().value().isPresent()) {
        values
            .putObject(entry.getKey())
            .put("value", live.reading().value().getAsDouble())
            .put("unit", live.reading().unit())
            .put("ageSeconds", live.age().toMillis() / 1000.0)
            .put("quality", live.reading().quality().words());
      }
    }
    if (event instanceof JobEvent.Mixed mixed) {
      answers
          .shelf()
          .find(mixed.cup().material())
          .ifPresent(material -> mixed(around, room, material, mixed.cup(), time));
    }
    return around;
  }

  private void mixed(
      ObjectNode around,
      RoomName room,
      MaterialShelf.Entry material,
      JobEvent.Cup cup,
      Instant time) {
    ObjectNode check = answers.check(room, material);
    around.put("verdict", check.path("verdict").asText());
    around.put("materialName", material.label());
    ArrayNode warned = around.putArray("warned");
    OwnDose.warnings(material.material(), cup.doseByWeightPct(), cup.resinC(), cup.moldC())
        .forEach(warned::add);
    ArrayNode predicted = around.putArray("predicted");
    clocks
        .fresh(room, List.of(), cup, time, time)
        .ifPresent(clock -> clock.stages().forEach(stage -> add(predicted, clock.mixed(), stage)));
  }

  private static void add(ArrayNode list, Instant mixed, StageTime stage) {
    ObjectNode node = list.addObject();
    node.put("stage", stage.stage().id()).put("name", stage.stage().words());
    JobView.times(node, "from", JobClocks.Times.of(mixed, stage.fromMinutes()));
    stage
        .untilMinutes()
        .ifPresent(until -> JobView.times(node, "until", JobClocks.Times.of(mixed, until)));
  }
}
