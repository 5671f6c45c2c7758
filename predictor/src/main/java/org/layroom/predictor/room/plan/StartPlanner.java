package org.layroom.predictor.room.plan;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.CureClocks;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.SeriesForecast;

/**
 * Tries every half hour of the forecast as a start and runs the cure clocks of each step along the
 * room's paths. A later step is mixed when the one before is likely ready and someone is up. The
 * mold follows its own forecast where it is measured, else the air's.
 */
public final class StartPlanner {
  private static final Duration EVERY = Duration.ofMinutes(30);
  private static final int CLOCK_PATHS = 32;
  private static final double DOSE_SPREAD = 0.05;
  private static final double SENSOR_K = 0.5;

  /** A start is proposed when at least this share of the paths stays inside the limits. */
  private static final double LEAST_CHANCE = 0.8;

  /** Gel coat may wait this long for its laminate (common practice, no source). */
  private static final Duration LONGEST_WAIT = Duration.ofDays(1);

  private static final double LONGEST_GEL_MINUTES = 24 * 60;

  private final RoomForecast forecast;
  private final List<PlanStep> chain;
  private final WakingHours waking;
  private final SeriesForecast mold;
  private final Instant end;

  private StartPlanner(RoomForecast forecast, List<PlanStep> chain, WakingHours waking) {
    this.forecast = forecast;
    this.chain = chain;
    this.waking = waking;
    mold = forecast.moldOrAir();
    end = forecast.at().plus(forecast.length());
  }

  /**
   * Starts for a chain of steps.
   *
   * @param chain at least one, in the order of work
   */
  public static StartPlan plan(RoomForecast forecast, List<PlanStep> chain, WakingHours waking) {
    if (chain.isEmpty()) {
      throw new IllegalArgumentException("a plan needs at least one step, such as a laminate");
    }
    StartPlanner planner = new StartPlanner(forecast, chain, waking);
    List<StartTime> proposed = new ArrayList<>();
    List<StartTime> others = new ArrayList<>();
    for (Instant start = planner.firstHalfHour();
        start.isBefore(planner.end);
        start = start.plus(EVERY)) {
      if (waking.contains(start)) {
        StartTime tried = planner.start(start);
        (tried.proposed() ? proposed : others).add(tried);
      }
    }
    proposed.sort(
        Comparator.comparing((StartTime s) -> -Math.round(20 * s.chance()))
            .thenComparing(s -> s.demold().orElse(Instant.MAX))
            .thenComparing(StartPlanner::lateness));
    return new StartPlan(proposed, others);
  }

  /** For the same demold the latest start, for one out of sight the soonest. */
  private static long lateness(StartTime start) {
    long second = start.start().getEpochSecond();
    return start.demold().isPresent() ? -second : second;
  }

  /** One start and what becomes of it, whoever is up. */
  public static StartTime at(RoomForecast forecast, PlanStep step, Instant start) {
    WakingHours always = new WakingHours(LocalTime.MIDNIGHT, LocalTime.MAX, ZoneOffset.UTC);
    return new StartPlanner(forecast, List.of(step), always).start(start);
  }

  private Instant firstHalfHour() {
    long every = EVERY.toSeconds();
    return Instant.ofEpochSecond(-Math.floorDiv(-forecast.at().getEpochSecond(), every) * every);
  }

  private StartTime start(Instant start) {
    List<PlannedStep> steps = new ArrayList<>();
    List<String> troubles = new ArrayList<>();
    Instant mixAt = start;
    double chance = 1;
    for (PlanStep step : chain) {
      if (!mixAt.isBefore(end)) {
        troubles.add(
            "The " + step.kind().words() + " would be mixed after the end of the forecast.");
        return new StartTime(start, steps, Optional.empty(), chance, troubles);
      }
      PlannedStep planned = place(step, mixAt);
      steps.add(planned);
      chance = Math.min(chance, planned.chance());
      troubles.addAll(troubles(step, planned));
      Instant ready = after(mixAt, readyMinutes(step, planned));
      Instant next = waking.next(ready);
      if (steps.size() < chain.size()
          && Duration.between(ready, next).compareTo(LONGEST_WAIT) > 0) {
        troubles.add(
            "The " + step.kind().words() + " would wait more than a day for the next step.");
      }
      mixAt = next;
    }
    return new StartTime(start, steps, demold(steps.get(steps.size() - 1)), chance, troubles);
  }

  private static double handsOnMinutes(PlanStep step) {
    return step.handsOn().toSeconds() / 60.0;
  }

  private static Instant after(Instant mixAt, double minutes) {
    return minutes == Double.POSITIVE_INFINITY
        ? Instant.MAX
        : mixAt.plusSeconds(Math.round(60 * minutes));
  }

  private PlannedStep place(PlanStep step, Instant mixAt) {
    TemperatureOutlook outlook = mold.outlookFrom(mixAt, CLOCK_PATHS);
    List<StageTime> stages =
        CureClocks.stages(
            new ClockInputs(
                step.belief(),
                step.kind(),
                step.doseByWeightPct(),
                DOSE_SPREAD,
                outlook,
                SENSOR_K,
                outlook,
                SENSOR_K,
                step.hardening()));
    return new PlannedStep(step.name(), mixAt, stages, chance(step, mixAt, stages));
  }

  private static Band band(List<StageTime> stages, Stage stage) {
    return stages.stream()
        .filter(s -> s.stage() == stage)
        .map(StageTime::fromMinutes)
        .findFirst()
        .orElseThrow();
  }

  private static double readyMinutes(PlanStep step, PlannedStep planned) {
    return step.kind() == MaterialKind.GEL_COAT
        ? band(planned.stages(), Stage.READY_TO_LAMINATE).p50()
        : Math.max(handsOnMinutes(step), band(planned.stages(), Stage.FILM_GEL).p50());
  }

  private Optional<Instant> demold(PlannedStep last) {
    double minutes = band(last.stages(), Stage.DEMOLD).p50();
    Instant likely = after(last.mixAt(), minutes);
    return likely.isAfter(end) ? Optional.empty() : Optional.of(waking.next(likely));
  }

  /** Share of the paths inside the limits from mixing until the film has likely gelled. */
  private double chance(PlanStep step, Instant mixAt, List<StageTime> stages) {
    int from = index(mixAt);
    int to = index(after(mixAt, Math.min(band(stages, Stage.FILM_GEL).p50(), LONGEST_GEL_MINUTES)));
    int inside = 0;
    for (int p = 0; p < mold.pathCount(); p++) {
      inside += inside(step, mold.path(p), from, to) ? 1 : 0;
    }
    return (double) inside / mold.pathCount();
  }

  private static double coldest(PlanStep step) {
    return Math.max(step.limits().min(), ShopLimits.COLDEST_DOSE_C);
  }

  private static double hottest(PlanStep step) {
    return Math.min(step.limits().max(), ShopLimits.HOTTEST_C);
  }

  private static boolean inside(PlanStep step, double[] path, int from, int to) {
    for (int i = from; i <= to; i++) {
      if (path[i] < coldest(step) || path[i] > hottest(step)) {
        return false;
      }
    }
    return true;
  }

  private int index(Instant time) {
    long minutes = Duration.between(forecast.at(), time).toMinutes();
    return (int)
        Math.max(0, Math.min(mold.points().size() - 1, minutes / SeriesForecast.STEP_MINUTES - 1));
  }

  private List<String> troubles(PlanStep step, PlannedStep planned) {
    List<String> troubles = new ArrayList<>();
    String what = step.kind().words();
    if (planned.chance() < LEAST_CHANCE) {
      int from = index(planned.mixAt());
      int to =
          index(
              after(
                  planned.mixAt(),
                  Math.min(band(planned.stages(), Stage.FILM_GEL).p50(), LONGEST_GEL_MINUTES)));
      double lowest = Double.MAX_VALUE;
      double highest = -Double.MAX_VALUE;
      for (int i = from; i <= to; i++) {
        lowest = Math.min(lowest, mold.points().get(i).p10());
        highest = Math.max(highest, mold.points().get(i).p90());
      }
      troubles.add(
          lowest < coldest(step)
              ? "The mold may fall to "
                  + Words.celsius(lowest)
                  + " before the "
                  + what
                  + " has gelled; it needs "
                  + Words.celsiusLimit(coldest(step))
                  + "."
              : "The mold may reach "
                  + Words.celsius(highest)
                  + " before the "
                  + what
                  + " has gelled; the limit is "
                  + Words.celsiusLimit(hottest(step))
                  + ".");
    }
    double handsOn =
        Math.max(handsOnMinutes(step), band(planned.stages(), Stage.STOP_WETTING_OUT).p50());
    if (!waking.contains(after(planned.mixAt(), handsOn))) {
      troubles.add("The work on the " + what + " would go on after your hours.");
    }
    if (step.kind() == MaterialKind.LAMINATING_RESIN && trimAsleep(planned)) {
      troubles.add("The edge would be ready to trim while nobody is there.");
    }
    forecast
        .humidity()
        .map(humidity -> humidity.points().get(index(planned.mixAt())).p50())
        .filter(likely -> likely > ShopLimits.DAMP_HUMIDITY_PCT)
        .ifPresent(
            likely ->
                troubles.add(
                    "The air is likely at "
                        + Words.percent(Math.rint(likely))
                        + " humidity when the "
                        + what
                        + " is mixed; the limit is "
                        + Words.percent(ShopLimits.DAMP_HUMIDITY_PCT)
                        + "."));
    return troubles;
  }

  private boolean trimAsleep(PlannedStep planned) {
    double opens = band(planned.stages(), Stage.GREEN_TRIM).p50();
    return opens < Double.POSITIVE_INFINITY && !waking.contains(after(planned.mixAt(), opens));
  }
}
