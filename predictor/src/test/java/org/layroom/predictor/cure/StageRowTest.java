package org.layroom.predictor.cure;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The table of stages is whole: nothing that is shown is forgotten, nothing that is run unused. */
class StageRowTest {
  @Test
  void everyStageHasOneRowInTheOrderOfTheStages() {
    assertEquals(
        Arrays.asList(Stage.values()), StageRow.TABLE.stream().map(StageRow::stage).toList());
  }

  @Test
  void everyClockIsShownByAStage() {
    Set<EnsembleClock> shown =
        StageRow.TABLE.stream()
            .flatMap(row -> Stream.concat(Stream.of(row.opens()), row.closes().stream()))
            .collect(Collectors.toCollection(() -> EnumSet.noneOf(EnsembleClock.class)));
    assertEquals(EnumSet.allOf(EnsembleClock.class), shown);
  }
}
