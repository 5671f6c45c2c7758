package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.room.RoomAnswer;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.RoomResponse;
import org.layroom.predictor.room.plan.Airing;
import org.layroom.predictor.room.plan.PlannedStep;
import org.layroom.predictor.room.plan.Preheat;
import org.layroom.predictor.room.plan.StartPlan;
import org.layroom.predictor.room.plan.StartPlanner;
import org.layroom.predictor.room.plan.StartTime;

/** When to start, what heating buys and what airing costs, as JSON and in words. */
public final class PlanAnswer {
  private static final int TOLD = 5;
  private static final int HEATED_TOLD = 3;
  private static final Duration APART = Duration.ofHours(3);

  private final PlanQuestion question;
  private final RoomForecast forecast;
  private final RoomResponse response;
  private final ZoneId zone;

  private PlanAnswer(PlanQuestion question, RoomForecast forecast, RoomResponse response) {
    this.question = question;
    this.forecast = forecast;
    this.response = response;
    zone = question.waking().zone();
  }

  /**
   * A plan, or why there is no forecast to plan on.
   *
   * @param response how this room has answered to heating and airing
   * @param noted what the reading of the history has to tell
   */
  public static Answer of(
      PlanQuestion question,
      RoomAnswer room,
      RoomResponse response,
      Instant at,
      List<Warning> noted) {
    if (room instanceof RoomForecast forecast) {
      return new PlanAnswer(question, forecast, response).answer(noted);
    }
    return ForecastAnswer.of(room, at, question.waking().zone(), noted);
  }

  private Answer answer(List<Warning> noted) {
    StartPlan plan = StartPlanner.plan(forecast, question.chain(), question.waking());
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("at", forecast.at().toString());
    json.put("zone", zone.getId());
    json.put("waking", question.waking().from() + "-" + question.waking().until());
    ArrayNode chain = json.putArray("chain");
    for (int i = 0; i < question.chain().size(); i++) {
      chain
          .addObject()
          .put("material", question.materials().get(i).material().id())
          .put("name", question.materials().get(i).label())
          .put("kind", question.chain().get(i).kind().id())
          .put("doseByWeightPct", question.chain().get(i).doseByWeightPct());
    }
    ArrayNode proposed = json.putArray("proposed");
    plan.proposed().forEach(start -> start(proposed.addObject(), start));
    ArrayNode others = json.putArray("others");
    plan.others().forEach(start -> start(others.addObject(), start));
    List<String> heated = heated(plan.others());
    List<String> otherWords = grouped(plan.others());
    ArrayNode heatedList = json.putArray("heatedWords");
    heated.forEach(heatedList::add);
    ArrayNode otherList = json.putArray("othersWords");
    otherWords.forEach(otherList::add);
    List<String> words = words(plan, heated, otherWords);
    Preheat preheat = preheat();
    ObjectNode heating = json.putObject("preheat").put("wantedMoldC", question.wantedMoldC());
    preheat.hours().ifPresent(hours -> heating.put("hours", hours));
    heating.put("words", preheat.words());
    String airing = airing(json.putObject("airing"));
    ArrayNode wordList = json.putArray("words");
    words.forEach(wordList::add);
    Answer.outcome(json, List.of(), noted);
    List<String> lines = new ArrayList<>(words);
    lines.add("Heating to " + Words.celsius(question.wantedMoldC()) + " now: " + preheat.words());
    lines.add("Airing: " + airing);
    lines.add(
        "A plan is a forecast: the finger test and the hardness check decide. The safety data"
            + " sheet and local rules come first.");
    noted.forEach(warning -> lines.add("Note: " + warning.reason()));
    ArrayNode all = json.putArray("lines");
    lines.forEach(all::add);
    return new Answer(json, lines, false);
  }

  private Preheat preheat() {
    return Preheat.until(
        response,
        forecast.air().points().get(0).p50(),
        forecast.moldOrAir().points().get(0).p50(),
        question.wantedMoldC());
  }

  private String airing(ObjectNode json) {
    if (question.airing().isEmpty()) {
      String words = Airing.costWords(response);
      json.put("words", words);
      return words;
    }
    PlanQuestion.Vapor vapor = question.airing().get();
    Airing airing =
        Airing.until(
            response,
            vapor.levelNow(),
            vapor.levelWanted(),
            vapor.airChangesPerHour(),
            vapor.mixing());
    json.put("minutes", airing.minutes());
    airing.moldLossK().ifPresent(loss -> json.put("moldLossK", loss));
    airing.moldLossPerHourK().ifPresent(loss -> json.put("moldLossPerHourK", loss));
    json.put("words", airing.words());
    return airing.words();
  }

  private void start(ObjectNode json, StartTime start) {
    json.put("start", start.start().toString());
    json.put("when", ClockTimes.at(start.start(), forecast.at(), zone));
    json.put("chance", start.chance());
    start.demold().ifPresent(time -> json.put("demold", time.toString()));
    ArrayNode steps = json.putArray("steps");
    for (PlannedStep step : start.steps()) {
      ObjectNode node =
          steps
              .addObject()
              .put("name", step.name())
              .put("mixAt", step.mixAt().toString())
              .put("chance", step.chance());
      CureJson.stages(node, step.stages());
    }
    heatFrom(start).ifPresent(time -> json.put("heatFrom", time.toString()));
    ArrayNode troubles = json.putArray("troubles");
    start.troubles().forEach(troubles::add);
    json.put("words", start.proposed() ? good(start) : trouble(start));
  }

  private String good(StartTime start) {
    StringBuilder words = new StringBuilder();
    for (int i = 1; i < start.steps().size(); i++) {
      words
          .append(question.chain().get(i).kind().words())
          .append(" ")
          .append(ClockTimes.at(start.steps().get(i).mixAt(), forecast.at(), zone))
          .append(", ");
    }
    words.append(
        start
            .demold()
            .map(time -> "check for demold " + ClockTimes.about(time, forecast.at(), zone))
            .orElse("demold over 3 days away"));
    words
        .append("; stays within the limits ")
        .append(Math.round(10 * start.chance()))
        .append(" times in 10.");
    return words.toString();
  }

  private static String trouble(StartTime start) {
    return String.join(" ", start.troubles());
  }

  private static boolean onlyCold(StartTime start) {
    return start.troubles().stream().allMatch(words -> words.contains("may fall to"));
  }

  /** Where cold is the only trouble: from when to heat, if someone is up then. */
  private Optional<Instant> heatFrom(StartTime start) {
    return onlyCold(start)
        ? Preheat.from(response, forecast, start.start(), question.wantedMoldC())
            .filter(question.waking()::contains)
        : Optional.empty();
  }

  private List<String> heated(List<StartTime> others) {
    List<String> words = new ArrayList<>();
    Instant told = Instant.MIN;
    for (StartTime start : others) {
      Optional<Instant> from = heatFrom(start);
      if (from.isPresent() && words.size() < HEATED_TOLD && start.start().isAfter(told)) {
        told = start.start().plus(APART);
        words.add(
            "With heating, "
                + ClockTimes.at(start.start(), forecast.at(), zone)
                + " is possible: heat from "
                + ClockTimes.at(from.get(), forecast.at(), zone)
                + ", and hold the mold warm until it has gelled.");
      }
    }
    return words;
  }

  private List<String> words(StartPlan plan, List<String> heated, List<String> others) {
    List<String> words = new ArrayList<>();
    if (plan.proposed().isEmpty()) {
      words.add("No good start in the next three days.");
    }
    for (StartTime start : plan.proposed().subList(0, Math.min(TOLD, plan.proposed().size()))) {
      words.add("Start " + ClockTimes.at(start.start(), forecast.at(), zone) + ": " + good(start));
    }
    if (plan.proposed().size() > TOLD) {
      words.add((plan.proposed().size() - TOLD) + " more starts are also good.");
    }
    words.addAll(heated);
    words.addAll(others);
    return words;
  }

  /** Starts one after the other with the same trouble, told once. */
  private List<String> grouped(List<StartTime> others) {
    List<String> words = new ArrayList<>();
    int i = 0;
    while (i < others.size()) {
      int last = i;
      while (last + 1 < others.size() && alike(others.get(i), others.get(last + 1))) {
        last++;
      }
      String from = ClockTimes.at(others.get(i).start(), forecast.at(), zone);
      String when =
          last == i
              ? from
              : from + " to " + ClockTimes.at(others.get(last).start(), forecast.at(), zone);
      words.add("Not " + when + ": " + trouble(others.get(i)));
      i = last + 1;
    }
    return words;
  }

  private boolean alike(StartTime a, StartTime b) {
    return withoutFigures(a).equals(withoutFigures(b))
        && a.start().atZone(zone).toLocalDate().equals(b.start().atZone(zone).toLocalDate());
  }

  private static String withoutFigures(StartTime start) {
    return String.join(" ", start.troubles()).replaceAll("-?[0-9.]+", "#");
  }
}
