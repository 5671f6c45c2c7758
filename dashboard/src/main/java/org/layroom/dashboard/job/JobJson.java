package org.layroom.dashboard.job;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.layroom.predictor.heat.MoldKind;
import org.layroom.predictor.limits.Refusal;

/** Events as JSON: as they are posted and as they are kept. Strict in what it takes. */
public final class JobJson {
  private static final int SHORT = 80;
  private static final int LONG = 2000;

  /** What was mixed is recorded, also outside what Layroom would have given. */
  private static final double LEAST_RECORDED_PCT = 0.1;

  private static final double MOST_RECORDED_PCT = 10;
  private static final double COLDEST_RECORDED_C = 0;
  private static final double HOTTEST_RECORDED_C = 45;
  private static final String TYPES =
      "started, step-added, applied, mixed, gelled, film-read, done, skipped, checked, noted, removed, seen,"
          + " given-up, undone";

  /** What became of a posted event: the event, or everything that is wrong with it. */
  public record Parsed(Optional<JobEvent> event, List<Refusal> refused) {
    public Parsed {
      refused = List.copyOf(refused);
    }
  }

  private JobJson() {}

  /**
   * Reads an event.
   *
   * @param envelope names of fields that belong to the post around the event, not to the event
   */
  public static Parsed read(JsonNode node, Set<String> envelope) {
    List<Refusal> refused = new ArrayList<>();
    JsonFields fields = new JsonFields(node, "", refused);
    Optional<JobEvent> event =
        switch (fields.text("type", SHORT)) {
          case "started" -> Optional.of(started(fields, envelope));
          case "step-added" -> stepAdded(fields, envelope);
          case "applied" -> Optional.of(new JobEvent.Applied(step(fields, envelope)));
          case "mixed" -> mixed(fields, envelope);
          case "gelled" -> {
            only(fields, envelope, "mix", "offMinutes", "timeUnknown");
            yield Optional.of(
                new JobEvent.Gelled(
                    fields.text("mix", SHORT),
                    fields.optionalNumber("offMinutes", 0, 240, "min").orElse(0),
                    fields.flag("timeUnknown")));
          }
          case "film-read" -> {
            String step = step(fields, envelope, "millimeters");
            yield Optional.of(
                new JobEvent.FilmRead(step, fields.number("millimeters", 0.05, 3, "mm")));
          }
          case "done" -> {
            String step = step(fields, envelope, "cameOut");
            yield Optional.of(
                new JobEvent.Done(
                    step,
                    fields.has("cameOut")
                        ? fields.oneOf("cameOut", CameOut::of, CameOut.ids())
                        : Optional.empty()));
          }
          case "skipped" -> Optional.of(new JobEvent.Skipped(step(fields, envelope)));
          case "checked" -> Optional.of(checked(fields, envelope));
          case "noted" -> {
            only(fields, envelope, "words");
            yield Optional.of(new JobEvent.Noted(fields.text("words", LONG)));
          }
          case "removed" -> {
            only(fields, envelope);
            yield Optional.of(new JobEvent.Removed());
          }
          case "seen" -> {
            only(fields, envelope, "symptom");
            yield fields.oneOf("symptom", Symptom::of, Symptom.ids()).map(JobEvent.Seen::new);
          }
          case "given-up" -> {
            only(fields, envelope, "why");
            yield Optional.of(
                new JobEvent.GivenUp(fields.optionalText("why", LONG).orElse("no reason given")));
          }
          case "undone" -> {
            only(fields, envelope, "event");
            yield Optional.of(new JobEvent.Undone(fields.text("event", SHORT)));
          }
          default -> {
            if (fields.has("type")) {
              fields.refuse("type", node.path("type").asText(), "must be one of " + TYPES);
            }
            yield Optional.empty();
          }
        };
    return new Parsed(refused.isEmpty() ? event : Optional.empty(), refused);
  }

  private static void only(JsonFields fields, Set<String> envelope, String... own) {
    Set<String> known = new HashSet<>(envelope);
    known.add("type");
    known.addAll(List.of(own));
    fields.only(known);
  }

  private static String step(JsonFields fields, Set<String> envelope, String... more) {
    List<String> own = new ArrayList<>(List.of(more));
    own.add("step");
    only(fields, envelope, own.toArray(String[]::new));
    return fields.text("step", SHORT);
  }

  private static JobEvent started(JsonFields fields, Set<String> envelope) {
    only(fields, envelope, "part", "molds", "steps", "fanOn", "respiratorOn");
    String part = fields.text("part", SHORT);
    List<String> molds = fields.texts("molds", SHORT);
    if (molds.isEmpty()) {
      fields.refuse("molds", "none", "enter at least one mold");
    }
    List<PlannedJobStep> steps = new ArrayList<>();
    for (JsonFields one : fields.objects("steps")) {
      one.only(Set.of("kind", "name", "material"));
      planned(one, String.valueOf(steps.size() + 1)).ifPresent(steps::add);
    }
    if (steps.isEmpty()) {
      fields.refuse("steps", "none", "add at least one step");
    }
    return new JobEvent.Started(
        part, molds, steps, fields.flag("fanOn"), fields.flag("respiratorOn"));
  }

  private static Optional<PlannedJobStep> planned(JsonFields fields, String id) {
    Optional<StepKind> kind = fields.oneOf("kind", StepKind::of, StepKind.ids());
    Optional<String> name = fields.optionalText("name", SHORT);
    Optional<String> material = fields.optionalText("material", SHORT);
    return kind.map(k -> new PlannedJobStep(id, k, name.orElse(k.words()), material));
  }

  private static Optional<JobEvent> stepAdded(JsonFields fields, Set<String> envelope) {
    only(fields, envelope, "step", "kind", "name", "material", "before");
    String id = fields.text("step", SHORT);
    Optional<String> before = fields.optionalText("before", SHORT);
    return planned(fields, id).map(step -> new JobEvent.StepAdded(step, before));
  }

  private static Optional<JobEvent> mixed(JsonFields fields, Set<String> envelope) {
    String step = step(fields, envelope, "cup", "fanOn", "respiratorOn", "mask");
    Optional<JobEvent.On> on =
        fields.has("fanOn") || fields.has("respiratorOn")
            ? Optional.of(
                new JobEvent.On(
                    fields.flag("fanOn"),
                    fields.flag("respiratorOn"),
                    fields.optionalText("mask", SHORT)))
            : Optional.empty();
    return fields.object("cup").map(cup -> new JobEvent.Mixed(step, cup(cup), on));
  }

  private static JobEvent.Cup cup(JsonFields fields) {
    fields.only(
        Set.of(
            "material",
            "materialGrams",
            "doseByWeightPct",
            "catalystMl",
            "resinC",
            "moldC",
            "typed",
            "goneOn",
            "thicknessMm",
            "moldKind"));
    return new JobEvent.Cup(
        fields.text("material", SHORT),
        fields.number("materialGrams", 1, 50_000, "g"),
        fields.number("doseByWeightPct", LEAST_RECORDED_PCT, MOST_RECORDED_PCT, "% by weight"),
        fields.optionalNumber("catalystMl", 0, 2000, "ml"),
        fields.number("resinC", COLDEST_RECORDED_C, HOTTEST_RECORDED_C, "degC"),
        fields.number("moldC", COLDEST_RECORDED_C, HOTTEST_RECORDED_C, "degC"),
        fields.flag("typed"),
        fields.texts("goneOn", 400),
        fields.optionalNumber("thicknessMm", 0.1, 100, "mm"),
        fields.has("moldKind")
            ? fields.oneOf("moldKind", MoldKind::of, MoldKind.ids()).map(MoldKind::id)
            : Optional.empty());
  }

  private static JobEvent checked(JsonFields fields, Set<String> envelope) {
    String step = step(fields, envelope, "fingernail", "tap", "noGive", "hardness");
    return new JobEvent.Checked(
        step,
        fields.flag("fingernail"),
        fields.flag("tap"),
        fields.flag("noGive"),
        fields.numbers("hardness", 0, 100, ""));
  }

  /** An event as it is kept; {@link #read} gives the same event back. */
  public static ObjectNode write(JobEvent event) {
    ObjectNode json = JsonNodeFactory.instance.objectNode().put("type", event.type());
    if (event instanceof JobEvent.Started started) {
      json.put("part", started.part());
      ArrayNode molds = json.putArray("molds");
      started.molds().forEach(molds::add);
      ArrayNode steps = json.putArray("steps");
      started.steps().forEach(step -> planned(steps.addObject(), step));
      json.put("fanOn", started.fanOn()).put("respiratorOn", started.respiratorOn());
    } else if (event instanceof JobEvent.StepAdded added) {
      planned(json.put("step", added.step().id()), added.step());
      added.before().ifPresent(before -> json.put("before", before));
    } else if (event instanceof JobEvent.Applied applied) {
      json.put("step", applied.step());
    } else if (event instanceof JobEvent.Mixed mixed) {
      cup(json.put("step", mixed.step()).putObject("cup"), mixed.cup());
      mixed
          .on()
          .ifPresent(
              on -> {
                json.put("fanOn", on.fan()).put("respiratorOn", on.respirator());
                on.mask().ifPresent(mask -> json.put("mask", mask));
              });
    } else if (event instanceof JobEvent.Gelled gelled) {
      json.put("mix", gelled.mix());
      if (gelled.offMinutes() > 0) {
        json.put("offMinutes", gelled.offMinutes());
      }
      if (gelled.timeUnknown()) {
        json.put("timeUnknown", true);
      }
    } else if (event instanceof JobEvent.FilmRead film) {
      json.put("step", film.step()).put("millimeters", film.millimeters());
    } else if (event instanceof JobEvent.Done done) {
      json.put("step", done.step());
      done.cameOut().ifPresent(how -> json.put("cameOut", how.id()));
    } else if (event instanceof JobEvent.Skipped skipped) {
      json.put("step", skipped.step());
    } else if (event instanceof JobEvent.Checked checked) {
      json.put("step", checked.step()).put("fingernail", checked.fingernail());
      json.put("tap", checked.tap()).put("noGive", checked.noGive());
      ArrayNode hardness = json.putArray("hardness");
      checked.hardness().forEach(hardness::add);
    } else if (event instanceof JobEvent.Noted noted) {
      json.put("words", noted.words());
    } else if (event instanceof JobEvent.Seen seen) {
      json.put("symptom", seen.symptom().id());
    } else if (event instanceof JobEvent.GivenUp givenUp) {
      json.put("why", givenUp.why());
    } else if (event instanceof JobEvent.Undone undone) {
      json.put("event", undone.event());
    }
    return json;
  }

  private static void planned(ObjectNode json, PlannedJobStep step) {
    json.put("kind", step.kind().id()).put("name", step.name());
    step.material().ifPresent(material -> json.put("material", material));
  }

  private static void cup(ObjectNode json, JobEvent.Cup cup) {
    json.put("material", cup.material()).put("materialGrams", cup.materialGrams());
    json.put("doseByWeightPct", cup.doseByWeightPct());
    cup.catalystMl().ifPresent(ml -> json.put("catalystMl", ml));
    json.put("resinC", cup.resinC()).put("moldC", cup.moldC()).put("typed", cup.typed());
    ArrayNode goneOn = json.putArray("goneOn");
    cup.goneOn().forEach(goneOn::add);
    cup.thicknessMm().ifPresent(mm -> json.put("thicknessMm", mm));
    cup.moldKind().ifPresent(kind -> json.put("moldKind", kind));
  }
}
