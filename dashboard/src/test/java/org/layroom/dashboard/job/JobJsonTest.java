package org.layroom.dashboard.job;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.layroom.predictor.limits.Refusal;

/** Events as JSON: what is written is read back, and what is wrong is named with its field. */
class JobJsonTest {
  private static final JsonMapper JSON = JsonMapper.builder().build();

  static List<JobEvent> events() {
    return List.of(
        new JobEvent.Started(
            "roof hatch",
            List.of("hatch", "rim"),
            List.of(new PlannedJobStep("1", StepKind.LAYER, "layer", Optional.of("gp-resin"))),
            true,
            false),
        new JobEvent.StepAdded(
            new PlannedJobStep("7", StepKind.JOIN, "join rim", Optional.empty()), Optional.of("1")),
        new JobEvent.Applied("1"),
        new JobEvent.Mixed(
            "1",
            new JobEvent.Cup(
                "gp-resin", 224.5, 1.62, OptionalDouble.of(3.1), 18, 17.5, true, List.of("cold"))),
        new JobEvent.Mixed(
            "1",
            new JobEvent.Cup(
                "gp-resin", 224.5, 1.62, OptionalDouble.empty(), 18, 17, false, List.of()),
            Optional.of(new JobEvent.On(true, false, Optional.of("full-face")))),
        new JobEvent.Mixed(
            "1",
            new JobEvent.Cup(
                "gp-resin", 224.5, 4, OptionalDouble.empty(), 12, 8, true, List.of("hot"))),
        new JobEvent.Mixed(
            "1",
            new JobEvent.Cup(
                "gp-resin",
                224.5,
                1.5,
                OptionalDouble.empty(),
                20,
                20,
                false,
                List.of(),
                OptionalDouble.of(4.5),
                Optional.of("wood"))),
        new JobEvent.Gelled("event-1"),
        new JobEvent.Gelled("event-1", 3.5, false),
        new JobEvent.Gelled("event-1", 0, true),
        new JobEvent.FilmRead("1", 0.42),
        new JobEvent.Done("1"),
        new JobEvent.Done("1", Optional.of(CameOut.STUCK)),
        new JobEvent.Skipped("1"),
        new JobEvent.Checked("1", true, false, true, List.of(30.0, 34.0)),
        new JobEvent.Noted("thin at the corner"),
        new JobEvent.Seen(Symptom.WRINKLED),
        new JobEvent.GivenUp("dropped it"),
        new JobEvent.Undone("event-1"));
  }

  @ParameterizedTest
  @MethodSource("events")
  void whatIsWrittenIsReadBack(JobEvent event) {
    assertEquals(Optional.of(event), JobJson.read(JobJson.write(event), Set.of()).event());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          {}                                                        | type
          {"type":"mixing"}                                         | type
          {"type":"done"}                                           | step
          {"type":"done","step":3}                                  | step
          {"type":"done","step":"1","seen":4}                       | seen
          {"type":"done","step":"1","cameOut":"green"}              | cameOut
          {"type":"gelled","mix":"1","offMinutes":-1}               | offMinutes
          {"type":"film-read","step":"1","millimeters":30}          | millimeters
          {"type":"film-read","step":"1","millimeters":"0.4"}       | millimeters
          {"type":"seen","symptom":"ugly"}                          | symptom
          {"type":"checked","step":"1","tap":"yes"}                 | tap
          {"type":"mixed","step":"1"}                               | cup
          {"type":"mixed","step":"1","cup":{"material":"gp-resin","materialGrams":200,"doseByWeightPct":12,"resinC":20,"moldC":20}} | cup.doseByWeightPct
          {"type":"mixed","step":"1","cup":{"material":"gp-resin","materialGrams":200,"doseByWeightPct":1.5,"resinC":-1,"moldC":20}}  | cup.resinC
          {"type":"mixed","step":"1","cup":{"material":"gp-resin","doseByWeightPct":1.5,"resinC":20,"moldC":20}}  | cup.materialGrams
          {"type":"mixed","step":"1","cup":{"material":"gp-resin","materialGrams":9,"doseByWeightPct":1.5,"resinC":20,"moldC":20,"thicknessMm":200}}  | cup.thicknessMm
          {"type":"mixed","step":"1","cup":{"material":"gp-resin","materialGrams":9,"doseByWeightPct":1.5,"resinC":20,"moldC":20,"moldKind":"ice"}}  | cup.moldKind
          {"type":"started","part":"hatch","molds":["a"],"steps":[]} | steps
          {"type":"started","part":"hatch","molds":[],"steps":[{"kind":"trim"}]} | molds
          {"type":"started","part":"hatch","molds":["a"],"steps":[{"kind":"polish"}]} | steps[0].kind
          """)
  void whatIsWrongIsNamed(String json, String field) throws Exception {
    JobJson.Parsed parsed = JobJson.read(JSON.readTree(json), Set.of());
    assertTrue(parsed.event().isEmpty());
    assertTrue(
        parsed.refused().stream().map(Refusal::field).toList().contains(field),
        parsed.refused().toString());
  }

  /** The least and highest dose that may ever be mixed are the shop's limits, not the page's. */
  @Test
  void everythingWrongIsNamedAtOnce() throws Exception {
    JobJson.Parsed parsed =
        JobJson.read(
            JSON.readTree(
                "{\"type\":\"mixed\",\"step\":\"\",\"cup\":{\"doseByWeightPct\":0.05,\"x\":1}}"),
            Set.of());
    assertEquals(
        Set.of(
            "step",
            "cup.x",
            "cup.material",
            "cup.materialGrams",
            "cup.doseByWeightPct",
            "cup.resinC",
            "cup.moldC"),
        Set.copyOf(parsed.refused().stream().map(Refusal::field).toList()));
  }

  @Test
  void aFieldWithoutANameIsRefusedLikeAnyOther() throws Exception {
    JsonNode post = new JsonMapper().readTree("{\"type\":\"done\",\"step\":\"1\",\"\":2}");
    assertEquals(1, JobJson.read(post, Set.of()).refused().size());
  }
}
