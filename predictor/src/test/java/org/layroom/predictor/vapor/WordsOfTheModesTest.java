package org.layroom.predictor.vapor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.verdict.AirState;
import org.layroom.predictor.verdict.Conditions;
import org.layroom.predictor.verdict.MixCheck;

/**
 * The words that are shown in each mode and state, listed: a metal-oxide chip never tells ppm, an
 * average over eight hours or a limit, a detector says what it assumes, and neither calls the air
 * safe.
 */
class WordsOfTheModesTest {
  /** What only an instrument with a factor is entitled to. */
  private static final List<String> NOT_OF_A_CHIP =
      List.of("ppm", "twa", "eight-hour", "short-term", "explosive limit", "styrene if");

  private static Map<String, VaporWatch> chip() {
    Map<String, VaporWatch> states = new LinkedHashMap<>();
    states.put("ok", WatchedChip.inWorkRoom().level(1200, 1).watch());
    states.put("ventilate", WatchedChip.inWorkRoom().level(1200, 1).level(1200, 3.1).watch());
    states.put("leave", WatchedChip.inWorkRoom().level(1200, 1).level(300, 20).watch());
    states.put("leave, seen", WatchedChip.inWorkRoom().level(1200, 20).acknowledge().watch());
    states.put(
        "ventilate in a job",
        WatchedChip.inWorkRoom().level(1200, 1).job(3, true).level(1200, 3.1).watch());
    states.put(
        "leave on the house side in a job",
        WatchedChip.onHouseSide().level(1200, 1).job(3, true).level(1200, 20).watch());
    states.put("unknown, silent", WatchedChip.inWorkRoom().level(1200, 1).silence(120).watch());
    states.put(
        "unknown, no clean-air reading",
        new WatchedChip(WatchSettings.workRoom(VaporSensor.Chip.fresh())).level(1200, 1).watch());
    states.put(
        "leave, saturated",
        new WatchedChip(
                WatchSettings.workRoom(
                    VaporSensor.Chip.with(
                        CleanAirReading.of(WatchedChip.CLEAN, WatchedChip.START))))
            .level(1200, 1)
            .read(0)
            .read(0)
            .watch());
    return states;
  }

  private static Map<String, VaporWatch> detector() {
    ExposureLimit limit = ExposureLimit.untilChosen();
    Map<String, VaporWatch> states = new LinkedHashMap<>();
    states.put("ok", WatchedChip.detector(limit).ppm(1200, 2).watch());
    states.put("ventilate", WatchedChip.detector(limit).ppm(1200, 2).ppm(1200, 25).watch());
    states.put("leave", WatchedChip.detector(limit).ppm(1200, 2).ppm(1200, 120).watch());
    states.put("unknown, silent", WatchedChip.detector(limit).ppm(1200, 2).silence(120).watch());
    return states;
  }

  private static String said(VaporWatch watch) {
    List<String> words = new ArrayList<>(watch.words());
    watch
        .warning()
        .ifPresent(
            one -> {
              words.add(one.whatToDo());
              words.add(one.endsWhen());
            });
    watch.cleanAirAsked().ifPresent(words::add);
    words.add(
        MixCheck.check(Optional.empty(), Conditions.nothingKnown().withAir(AirState.of(watch)))
            .air()
            .words());
    return String.join(" | ", words);
  }

  private static String saidIn(Map<String, VaporWatch> states, String state) {
    return states.entrySet().stream()
        .filter(entry -> entry.getKey().equals(state))
        .map(entry -> said(entry.getValue()))
        .findFirst()
        .orElseThrow();
  }

  private static void list(String mode, Map<String, VaporWatch> states) {
    states.forEach((state, watch) -> System.out.printf("%s, %s: %s%n", mode, state, said(watch)));
  }

  @Test
  void eachStateIsWhatItsNameSays() {
    chip()
        .forEach((state, watch) -> assertTrue(state.startsWith(name(watch)), state + name(watch)));
    detector().forEach((state, watch) -> assertTrue(state.startsWith(name(watch)), state));
  }

  private static String name(VaporWatch watch) {
    return watch.call().name().toLowerCase(Locale.ROOT);
  }

  @Test
  void aChipTellsTimesCleanAirAndNothingElse() {
    list("metal-oxide chip", chip());
    chip()
        .forEach(
            (state, watch) -> {
              String said = said(watch).toLowerCase(Locale.ROOT);
              NOT_OF_A_CHIP.forEach(word -> assertFalse(said.contains(word), state + ": " + said));
              assertEquals(Optional.empty(), watch.eightHours());
            });
    assertTrue(saidIn(chip(), "ok").contains("times clean air, not a styrene measurement"));
    assertTrue(saidIn(chip(), "leave, saturated").contains("at least"));
  }

  @Test
  void aDetectorSaysWhatItAssumes() {
    list("detector", detector());
    for (String state : List.of("ok", "ventilate", "leave")) {
      String said = saidIn(detector(), state);
      assertTrue(said.contains("ppm as styrene, if there is no other vapor in the air"), said);
      assertFalse(said.contains("times clean air"), said);
    }
  }

  @Test
  void nothingIsEverCalledSafeOrClear() {
    chip().forEach((state, watch) -> assertModest(said(watch)));
    detector().forEach((state, watch) -> assertModest(said(watch)));
  }

  private static void assertModest(String said) {
    String words = said.toLowerCase(Locale.ROOT);
    for (String word : List.of(" safe", "harmless", "all clear", "no danger")) {
      assertFalse(words.contains(word), said);
    }
  }
}
