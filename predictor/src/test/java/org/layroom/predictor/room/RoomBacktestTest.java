package org.layroom.predictor.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * The forecast beats the rules of thumb, and its band is honest. The recorded room is data set
 * {@code air} of the R package ks (Debian r-cran-ks), given by {@code -Dlayroom.air=FILE}.
 */
class RoomBacktestTest {
  private static final List<SimpleRules> RULES = List.of(SimpleRules.values());

  @ParameterizedTest
  @EnumSource
  void inventedRoomsAreForecastBetterThanByAnyRule(SyntheticRoom.Heating heating) {
    RecordedRoom room =
        RecordedRoom.of("invented", new SyntheticRoom(heating, 77).days(110, 10, true));
    check(RoomBacktest.run(room, 180), 30, 0.95, 12);
  }

  @Test
  void theRecordedStationIsForecastBetterThanByAnyRule() {
    String file = System.getProperty("layroom.air", "");
    if (file.isBlank() && System.getenv("CI") != null) {
      fail("give the recorded room by -Dlayroom.air=FILE");
    }
    assumeTrue(!file.isBlank(), "no -Dlayroom.air=FILE given");
    RecordedRoom room = RecordedRoom.read(Path.of(file));
    List<RoomBacktest.Case> cases = RoomBacktest.run(room, 180);
    check(cases, 14, 0.92, 4);
    List<RoomBacktest.Case> nights = RoomBacktest.nights(cases);
    assertEquals(1.805, RoomBacktest.mae(nights, SimpleRules.PERSISTENCE), 0.006);
    assertEquals(0.506, RoomBacktest.mae(nights, SimpleRules.LAST_CHANGE), 0.006);
    assertEquals(0.425, RoomBacktest.mae(nights, SimpleRules.WEEK_CHANGE), 0.006);
    double own = nights.stream().mapToDouble(RoomBacktest.Case::error).average().orElseThrow();
    assertTrue(own < 0.380, "night error " + own + " K");
  }

  /** Each lead at most 2 % worse than the best rule, the mean gain as given, the band honest. */
  private static void check(
      List<RoomBacktest.Case> all, int warmUpDays, double mostMeanRatio, double bandPct) {
    long from = all.get(0).at() + warmUpDays * SimpleRules.DAY;
    double sum = 0;
    List<String> wrong = new ArrayList<>();
    for (int hours : RoomBacktest.HOURS) {
      List<RoomBacktest.Case> cases =
          all.stream().filter(c -> c.hours() == hours && c.at() >= from && c.comparable()).toList();
      double best = RULES.stream().mapToDouble(r -> RoomBacktest.mae(cases, r)).min().orElseThrow();
      double own = cases.stream().mapToDouble(RoomBacktest.Case::error).average().orElseThrow();
      sum += own / best;
      double inside =
          100.0 * cases.stream().filter(RoomBacktest.Case::inside).count() / cases.size();
      if (own > 1.02 * best || Math.abs(inside - 80) > bandPct) {
        wrong.add(hours + " h: " + own + " K against " + best + " K, band holds " + inside + " %");
      }
    }
    assertTrue(wrong.isEmpty(), wrong.toString());
    assertTrue(
        sum / RoomBacktest.HOURS.length < mostMeanRatio,
        "mean ratio " + sum / RoomBacktest.HOURS.length);
  }
}
