package org.layroom.predictor.room;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.hipparchus.special.Erf;

/**
 * Rolling-origin backtest of the room forecast against simple rules, never looking ahead: {@code
 * mvn -B -P backtest -pl predictor verify -Dlayroom.rooms=air.csv,office.csv}. A forecast is made
 * every three hours from what was read until then; its error is counted where the truth and all
 * rules are known. Prints mean absolute error, CRPS (its gain against the best rule dressed with
 * its own errors, and that of the room's climate: the same time of day over three weeks), and how
 * much the 80 % band holds.
 */
final class RoomBacktest {
  static final int[] HOURS = {1, 3, 6, 12, 24, 48};
  private static final int EVERY = 3 * 60;
  private static final int WARM_UP_DAYS = 14;
  private static final double TENTH = 1.2815515655446004;

  private RoomBacktest() {}

  /** One forecast and what became of it. */
  record Case(
      long at,
      int hours,
      double p10,
      double p50,
      double p90,
      double truth,
      Map<SimpleRules, Double> rules,
      Climate climate) {
    double rule(SimpleRules rule) {
      return rules.getOrDefault(rule, Double.NaN);
    }

    double error() {
      return Math.abs(p50 - truth);
    }

    boolean inside() {
      return truth >= p10 && truth <= p90;
    }

    boolean comparable() {
      return rules.values().stream().noneMatch(r -> r.isNaN());
    }

    double crps() {
      return RoomBacktest.crps(p50, (p90 - p10) / 2 / TENTH, truth);
    }
  }

  /**
   * What is usual at a time of day: mean and spread of the last days, dressed as a normal.
   *
   * @param days how many were known
   */
  record Climate(double mean, double sd, int days) {
    private static final int LONGEST = 21;
    private static final int LEAST = 5;

    /** From the same time of day on up to three weeks of days before a time. */
    static Climate of(RecordedRoom room, long at, long minute) {
      double sum = 0;
      double squares = 0;
      int days = 0;
      for (long then = minute - SimpleRules.back((int) (minute - at)) * SimpleRules.DAY;
          days < LONGEST && then > at - 2L * LONGEST * SimpleRules.DAY;
          then -= SimpleRules.DAY) {
        double value = room.at(then, SimpleRules.WITHIN);
        if (!Double.isNaN(value)) {
          sum += value;
          squares += value * value;
          days++;
        }
      }
      double mean = sum / days;
      double variance = (squares - days * mean * mean) / (days - 1) * (1 + 1.0 / days);
      return new Climate(mean, Math.sqrt(Math.max(1e-4, variance)), days);
    }

    double crps(double truth) {
      return days < LEAST ? Double.NaN : RoomBacktest.crps(mean, sd, truth);
    }
  }

  /** Continuous ranked probability score of a normal (Gneiting and Raftery 2007, eq. 21). */
  static double crps(double mean, double sd, double truth) {
    if (sd <= 0) {
      return Math.abs(mean - truth);
    }
    double z = (truth - mean) / sd;
    double density = Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
    return sd * (z * Erf.erf(z / Math.sqrt(2)) + 2 * density - 1 / Math.sqrt(Math.PI));
  }

  /** All forecasts of a recorded room. */
  static List<Case> run(RecordedRoom room, int everyMinutes) {
    RoomForecaster forecaster = new RoomForecaster();
    List<Case> cases = new ArrayList<>();
    int next = 0;
    List<RoomReading> readings = room.readings();
    long first = readings.get(0).time().getEpochSecond() / 60;
    long last = readings.get(readings.size() - 1).time().getEpochSecond() / 60;
    long start = Math.floorDiv(first, EVERY) * EVERY + EVERY;
    for (long at = start; at <= last; at += everyMinutes) {
      while (next < readings.size() && readings.get(next).time().getEpochSecond() <= at * 60) {
        forecaster.add(readings.get(next));
        next++;
      }
      Instant now = Instant.ofEpochSecond(at * 60);
      if (at - first < 3 * 60 + 10 || Double.isNaN(room.at(at, SimpleRules.WITHIN))) {
        continue;
      }
      List<ForecastPoint> points = forecaster.airPoints(now, 48 * 6);
      for (int hours : HOURS) {
        double truth = room.at(at + hours * 60L, SimpleRules.WITHIN);
        if (!Double.isNaN(truth)) {
          ForecastPoint p = points.get(hours * 6 - 1);
          Map<SimpleRules, Double> rules = new EnumMap<>(SimpleRules.class);
          for (SimpleRules rule : SimpleRules.values()) {
            rules.put(rule, rule.forecast(room, at, hours * 60));
          }
          Climate climate = Climate.of(room, at, at + hours * 60L);
          cases.add(new Case(at, hours, p.p10(), p.p50(), p.p90(), truth, rules, climate));
        }
      }
    }
    return cases;
  }

  static double mae(List<Case> cases, SimpleRules rule) {
    return cases.stream()
        .mapToDouble(c -> Math.abs(c.rule(rule) - c.truth()))
        .average()
        .orElse(Double.NaN);
  }

  /** CRPS of a rule dressed with the errors it has had so far at the same time of day. */
  private static double dressedCrps(List<Case> cases, SimpleRules rule) {
    Map<Long, double[]> squares = new TreeMap<>();
    double sum = 0;
    int count = 0;
    for (Case c : cases) {
      double error = c.rule(rule) - c.truth();
      double[] seen = squares.computeIfAbsent(c.at() / EVERY % 8, k -> new double[2]);
      if (seen[1] >= 5) {
        sum += crps(c.rule(rule), Math.sqrt(seen[0] / seen[1]), c.truth());
        count++;
      }
      seen[0] = 0.97 * seen[0] + error * error;
      seen[1] = 0.97 * seen[1] + 1;
    }
    return sum / count;
  }

  /** CRPS of the room's climate; NaN where it is not known for nearly all cases. */
  private static double climateCrps(List<Case> cases) {
    double[] known =
        cases.stream()
            .mapToDouble(c -> c.climate().crps(c.truth()))
            .filter(c -> !Double.isNaN(c))
            .toArray();
    return known.length < 0.9 * cases.size()
        ? Double.NaN
        : Arrays.stream(known).average().orElse(Double.NaN);
  }

  private static String print(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }

  static void table(RecordedRoom room, List<Case> all, StringBuilder out, int warmUpDays) {
    long from = all.get(0).at() + warmUpDays * SimpleRules.DAY;
    out.append(print("%n%s: mean absolute error, K, forecasts every 3 h%n", room.name()));
    out.append(print("%4s %6s", "h", "n"));
    for (SimpleRules rule : SimpleRules.values()) {
      out.append(print(" %20s", rule.words()));
    }
    out.append(
        print(
            " %8s %7s | %6s %7s %7s %6s %6s%n",
            "layroom", "gain%", "CRPS", "gain%", "climate", "80%in", "width"));
    double gain = 0;
    double crpsGain = 0;
    for (int hours : HOURS) {
      List<Case> cases =
          all.stream().filter(c -> c.hours() == hours && c.at() >= from && c.comparable()).toList();
      if (cases.isEmpty()) {
        continue;
      }
      double best = Double.MAX_VALUE;
      double bestCrps = Double.MAX_VALUE;
      out.append(print("%4d %6d", hours, cases.size()));
      for (SimpleRules rule : SimpleRules.values()) {
        double mae = mae(cases, rule);
        best = Math.min(best, mae);
        bestCrps = Math.min(bestCrps, dressedCrps(cases, rule));
        out.append(print(" %20.3f", mae));
      }
      double own = cases.stream().mapToDouble(Case::error).average().orElseThrow();
      double crps = cases.stream().mapToDouble(Case::crps).average().orElseThrow();
      double climate = climateCrps(cases);
      double inside = cases.stream().filter(Case::inside).count() * 100.0 / cases.size();
      double width = cases.stream().mapToDouble(c -> c.p90() - c.p10()).average().orElseThrow();
      gain += 100 * (1 - own / best);
      crpsGain += 100 * (1 - crps / bestCrps);
      out.append(
          print(
              " %8.3f %7.1f | %6.3f %7.1f %7.3f %6.1f %6.2f%n",
              own,
              100 * (1 - own / best),
              crps,
              100 * (1 - crps / bestCrps),
              climate,
              inside,
              width));
    }
    out.append(
        print(
            "mean gain: error %.1f %%, CRPS %.1f %%%n",
            gain / HOURS.length, crpsGain / HOURS.length));
  }

  /** The nights: 18:00 to 06:00. */
  static List<Case> nights(List<Case> all) {
    return all.stream()
        .filter(c -> c.hours() == 12 && c.at() % SimpleRules.DAY == 18 * 60 && c.comparable())
        .toList();
  }

  static void nights(List<Case> all, StringBuilder out) {
    List<Case> nights = nights(all);
    out.append(print("nights 18:00 to 06:00, n = %d:", nights.size()));
    for (SimpleRules rule : SimpleRules.values()) {
      out.append(print("  %s %.3f", rule.words(), mae(nights, rule)));
    }
    double own = nights.stream().mapToDouble(Case::error).average().orElse(Double.NaN);
    double inside =
        nights.stream().filter(Case::inside).count() * 100.0 / Math.max(1, nights.size());
    out.append(print("  layroom %.3f, 80 %% band holds %.1f %%%n", own, inside));
  }

  /** The first week of a room seen for the first time, started anew every ten days. */
  static void firstWeek(RecordedRoom room, StringBuilder out) {
    long day = 86400;
    long first = room.readings().get(0).time().getEpochSecond();
    long last = room.readings().get(room.readings().size() - 1).time().getEpochSecond();
    List<List<Case>> byAge = List.of(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
    for (long from = first; from + 10 * day <= last; from += 10 * day) {
      long start = from;
      List<RoomReading> some =
          room.readings().stream()
              .filter(r -> r.time().getEpochSecond() >= start)
              .filter(r -> r.time().getEpochSecond() < start + 9 * day)
              .toList();
      if (some.size() > 9 * 20) {
        for (Case c : run(RecordedRoom.of(room.name(), some), EVERY)) {
          double age = (c.at() * 60 - start) / (double) day;
          if (age < 7) {
            byAge.get(age < 1 ? 0 : age < 3 ? 1 : 2).add(c);
          }
        }
      }
    }
    String[] ages = {"day 1", "days 2-3", "days 4-7"};
    for (int a = 0; a < ages.length; a++) {
      for (int hours : HOURS) {
        List<Case> cases = byAge.get(a).stream().filter(c -> c.hours() == hours).toList();
        out.append(print("%9s %3d h n %5d", ages[a], hours, cases.size()));
        for (SimpleRules rule : SimpleRules.values()) {
          List<Case> known = cases.stream().filter(c -> !Double.isNaN(c.rule(rule))).toList();
          double own = known.stream().mapToDouble(Case::error).average().orElse(Double.NaN);
          out.append(print("  %s %.2f/%.2f", rule.words(), mae(known, rule), own));
        }
        double inside = cases.stream().filter(Case::inside).count() * 100.0 / cases.size();
        out.append(print("  80%%in %.1f%n", inside));
      }
    }
  }

  /** A file, or an invented room by the name of its heating. */
  private static RecordedRoom room(String name) {
    for (SyntheticRoom.Heating heating : SyntheticRoom.Heating.values()) {
      if (name.equals("invented:" + heating)) {
        return RecordedRoom.of(name, new SyntheticRoom(heating, 5).days(150, 10, true));
      }
    }
    return RecordedRoom.read(Path.of(name));
  }

  public static void main(String[] names) {
    for (String name : names) {
      RecordedRoom room = room(name);
      List<Case> cases = run(room, EVERY);
      StringBuilder out = new StringBuilder();
      table(room, cases, out, cases.size() > 2000 ? WARM_UP_DAYS : 1);
      nights(cases, out);
      firstWeek(room, out);
      System.out.print(out);
    }
  }
}
