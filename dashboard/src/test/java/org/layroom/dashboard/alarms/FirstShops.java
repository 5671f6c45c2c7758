package org.layroom.dashboard.alarms;

import java.util.ArrayList;
import java.util.List;

/** The simulation that the rule was tuned with: every scenario with six sensors. */
public final class FirstShops implements Shops {
  static final List<Chip> SENSORS =
      List.of(
          new Chip("faint chip", 0.03, 0.5, 60),
          new Chip("weak chip", 0.1, 0.5, 60),
          new Chip("middle chip", 0.6, 0.65, 90),
          new Chip("strong chip", 2, 0.8, 120),
          new Chip("data-sheet chip", 2, 1, 120),
          Chip.PID);

  /** Styrene of 2 kg resin at 42 %, rolled by hand, g (40 CFR 63 Subpart WWWW; from memory). */
  private static final double TWO_KG = 134;

  private static final double SMALL = 30;
  private static final int DAY = 24;

  @Override
  public String name() {
    return "first";
  }

  @Override
  public List<Shop> all() {
    List<Shop> all = new ArrayList<>();
    for (Scenario scenario : scenarios()) {
      SENSORS.forEach(chip -> all.add(new SimulatedShop(scenario, chip)));
    }
    return all;
  }

  private static List<Scenario> scenarios() {
    List<Scenario> all = new ArrayList<>();
    all.addAll(jobs());
    all.addAll(outsideJobs());
    all.addAll(faults());
    all.addAll(places());
    all.addAll(lives());
    return all;
  }

  private static Scenario shop(String name, double hours) {
    return new Scenario(name, hours);
  }

  private static List<Scenario> jobs() {
    return List.of(
        shop("job, fan at 12 changes/h", 5).air(0, 12).job(1, 3).layup(1.1, SMALL),
        shop("job, fan at 6 changes/h", 5).air(0, 6).job(1, 3).layup(1.1, SMALL),
        shop("job, 2 kg, fan at 20 changes/h", 5).air(0, 20).job(1, 3).layup(1.1, TWO_KG),
        shop("job, 2 kg, fan at 10 changes/h", 5).air(0, 10).job(1, 3).layup(1.1, TWO_KG),
        shop("job, 2 kg, fan ticked, off", 6).job(1, 4).layup(1.1, TWO_KG),
        shop("job, 5 kg, fan ticked, off", 6).job(1, 4).layup(1.1, 2.5 * TWO_KG),
        shop("job, 30 g, fan ticked, off", 6).job(1, 4).layup(1.1, SMALL),
        shop("job, 2 kg, fan fails", 6)
            .air(0, 10, 1.3, 0.2)
            .job(1, 4)
            .layup(1.1, TWO_KG)
            .layup(1.6, TWO_KG),
        shop("job, 2 kg, door opened at last", 6).air(0, 0.3, 1.5, 10).job(1, 4).layup(1.1, TWO_KG),
        shop("job without respirator, shut", 6).jobUnticked(1, 4).layup(1.1, TWO_KG));
  }

  private static List<Scenario> outsideJobs() {
    return List.of(
        shop("no job, 2 kg, shut", 6).layup(1, TWO_KG),
        shop("no job, 5 kg, shut", 6).layup(1, 2.5 * TWO_KG),
        shop("no job, spilled can, 3 changes/h", 4).air(0, 3).layup(1, 3 * TWO_KG),
        shop("one cup forgotten, shut", 6).layup(1, 15),
        shop("acetone, 2 g, 6 changes/h", 3).air(0, 6).wipe(1, 2),
        shop("acetone, 2 g, shut", 4).wipe(1, 2),
        shop("acetone, 2 g, shut, tapped", 4).wipe(1, 2).wipeTap(0.99),
        shop("acetone, 50 g, brushes, 6 changes/h", 4).air(0, 6).wipe(1, 50),
        shop("acetone, 300 g spilled, shut", 4).wipe(1, 300),
        shop("part cures by night, 3 ppm", 12)
            .with(one -> one.restGramsPerHour = hour -> hour > 1 ? 0.16 : 0));
  }

  private static List<Scenario> faults() {
    return List.of(
        shop("cold start in vapor, shut", 4).layup(0, TWO_KG).with(one -> one.settlingUntil = 1),
        shop("cold start, then a job", 6)
            .air(0, 10)
            .job(1.5, 3)
            .layup(1.6, SMALL)
            .with(one -> one.settlingUntil = 1),
        shop("device restarts in a bad job", 6).job(1, 4).layup(1.1, TWO_KG).deviceRestart(1.8),
        shop("dashboard restarts in a bad job", 6)
            .job(1, 4)
            .layup(1.1, TWO_KG)
            .dashboardRestart(1.8),
        shop("device restarts in vapor, no job", 6).layup(1, TWO_KG).deviceRestart(2),
        shop("unplugged for 20 min, shut", 6).layup(1, TWO_KG).dark(1.1, 1.43),
        shop("unplugged all through a job", 6).air(0, 10).job(1, 3).layup(1.1, SMALL).dark(1, 6),
        shop("saturates in a bad job", 6)
            .job(1, 4)
            .layup(1.1, 2.5 * TWO_KG)
            .with(one -> one.endTicks = 26_500),
        shop("saturates, no job", 6).layup(1.1, 2.5 * TWO_KG).with(one -> one.endTicks = 28_000),
        shop("saturates, spill, 3 changes/h", 4)
            .air(0, 3)
            .layup(1, 3 * TWO_KG)
            .with(one -> one.endTicks = 27_000),
        shop("one read in 20 bad, shut", 6).layup(1, TWO_KG).with(one -> one.badReads = 0.05),
        shop("one read in 100 bad, job aired", 5)
            .air(0, 10)
            .job(1, 3)
            .layup(1.1, SMALL)
            .with(one -> one.badReads = 0.01),
        shop("no clean-air reading, shut", 6).layup(1, TWO_KG).with(one -> one.cleanAir = false),
        shop("poisoned to a half, shut", 6).layup(1, TWO_KG).with(one -> one.poisoned = h -> 0.5));
  }

  private static List<Scenario> places() {
    return List.of(
        shop("two devices, one in a dead corner, bad job", 6)
            .job(1, 4)
            .layup(1.1, TWO_KG)
            .at(new Scenario.Place("bench", 1, false), new Scenario.Place("corner", 0.3, false)),
        shop("house side, tight door, aired jobs", 8)
            .air(0, 10)
            .job(1, 3)
            .layup(1.1, SMALL)
            .at(new Scenario.Place("bench", 1, false), new Scenario.Place("kitchen", 0.0002, true)),
        shop("damp day, 42 to 78 %", 24)
            .air(0, 2)
            .with(one -> one.humidityPct = hour -> 60 + 18 * Math.sin(hour / 4)),
        shop("winter, 6 degC", 6).layup(1, TWO_KG).with(one -> one.temperatureC = hour -> 6),
        shop("clean-air reading 400 ticks too dirty, shut", 6)
            .layup(1, TWO_KG)
            .with(one -> one.driftTicks = hour -> 400));
  }

  private static List<Scenario> lives() {
    Scenario fourth = shop("three good jobs, then the fan is off", 4 * DAY).air(0, 10, 73, 0.3);
    Scenario twice = shop("fan ticked and off, three jobs", 3 * DAY).air(0, 10);
    twice.air(0, 10, 1, 0.3, 6, 10, 25, 0.3, 30, 10, 49, 0.3, 54, 10);
    for (int day = 0; day < 4; day++) {
      fourth.job(day * DAY + 1, 3).layup(day * DAY + 1.1, day == 3 ? TWO_KG : SMALL);
      if (day < 3) {
        twice.job(day * DAY + 1, 3).layup(day * DAY + 1.1, TWO_KG);
      }
    }
    return List.of(fourth, twice, month(true), month(false));
  }

  /** A month: 12 aired jobs or none, a wipe on other days, a slow drift, a reading each week. */
  private static Scenario month(boolean withJobs) {
    Scenario month = shop(withJobs ? "month, 12 jobs" : "month, no job", 30 * DAY);
    month.stepSeconds = 20;
    month.air(0, 6);
    month.driftTicks = hour -> -10 * hour / DAY;
    for (int day = 0; day < 30; day++) {
      if (withJobs && day % 7 < 3 && day < 28) {
        month.job(day * DAY + 10, 4).layup(day * DAY + 10.2, SMALL + 10 * (day % 3));
      }
      if (day % 7 == 4 || day % 7 == 5) {
        month.wipe(day * DAY + 10, 3);
      }
      if (day % 7 == 6) {
        month.cleanAirTaken.add(day * DAY + 9.0);
      }
    }
    return month;
  }
}
