package org.layroom.dashboard.answer;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;

/** Stages in words. */
class CureJsonTest {
  private static final double DAY = 1440;

  // A part in a cool room: likely in nine days, at the latest not before the room is warmed. It
  // once said "over 3 days" for the latest.
  @Test
  void aTimeThatIsNotReachedIsNotEarlierThanOneThatIs() {
    StageTime load =
        new StageTime(
            Stage.FULL_HARDNESS,
            new Band(5 * DAY, 9 * DAY, Double.POSITIVE_INFINITY),
            Optional.empty(),
            "");
    assertEquals(
        "5.0 days 9.0 days once warmed",
        columns(CureJson.table(List.of(load), CureJson.ONCE_WARMED)));
    assertEquals(
        "5.0 days 9.0 days not yet", columns(CureJson.table(List.of(load), CureJson.NOT_YET)));
  }

  private static String columns(List<String> table) {
    return table.get(1).replace(Stage.FULL_HARDNESS.words(), "").strip().replaceAll(" {2,}", " ");
  }
}
