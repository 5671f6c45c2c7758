package org.layroom.dashboard.app;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.announce.Announcer;
import org.layroom.dashboard.announce.HouseAddress;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.dashboard.calendar.RoomCalendar;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.dashboard.warning.OpenWarning;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirCall;

/** What other programs of the house are told of the rooms: calendars, and posts to one address. */
final class Outside {
  private final DashboardCore core;
  private final RoomAnswers answers;
  private final JobAnswers jobs;
  private final AirWarnings air;

  Outside(DashboardCore core, RoomAnswers answers, JobAnswers jobs, AirWarnings air) {
    this.core = core;
    this.answers = answers;
    this.jobs = jobs;
    this.air = air;
  }

  RoomCalendar calendar(Pace pace) {
    return new RoomCalendar(
        core.store().events(),
        new RoomCalendar.Sources(jobs::planned, this::proposal, air::air),
        pace::now,
        answers.place().zone());
  }

  Announcer announcer(Optional<HouseAddress> address, Pace pace, Pace transport) {
    return Announcer.start(address, core::rooms, this::standing, pace, transport);
  }

  /** The best start for the material of the settings, where the room's forecast knows one. */
  private Optional<RoomCalendar.Proposal> proposal(RoomName room) {
    MaterialShelf.Entry material = answers.shelf().find(answers.place().material()).orElseThrow();
    JsonNode best = answers.plan(room, List.of(material), Map.of()).json().path("proposed").path(0);
    return best.has("start")
        ? Optional.of(
            new RoomCalendar.Proposal(
                Instant.parse(best.path("start").asText()), best.path("words").asText()))
        : Optional.empty();
  }

  private List<Announcer.Standing> standing(RoomName room) {
    List<Announcer.Standing> all = new ArrayList<>();
    for (OpenWarning warning : air.air(room).warnings()) {
      all.add(
          new Announcer.Standing(
              warning.id(),
              true,
              title(warning.call(), room),
              String.join(" ", warning.why()) + " " + warning.whatToDo()));
    }
    for (JsonNode notice : jobs.news(room).path("notices")) {
      all.add(
          new Announcer.Standing(
              notice.path("id").asText(),
              false,
              notice.path("part").asText() + ", " + room,
              notice.path("words").asText()));
    }
    return all;
  }

  private static String title(AirCall call, RoomName room) {
    return switch (call) {
      case LEAVE -> "Leave " + room;
      case VENTILATE -> "Ventilate " + room;
      case UNKNOWN, OK -> "Air unknown in " + room;
    };
  }
}
