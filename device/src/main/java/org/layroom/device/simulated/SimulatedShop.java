package org.layroom.device.simulated;

import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * An invented one-person shop that molds fenders and roof hatches for teardrop campers: outdoors,
 * walls that keep warmth, a heater on evenings and weekends, moisture, a mold that lags behind the
 * air, and vapor from layups. Explicit steps of five seconds; thread-safe.
 */
public final class SimulatedShop {
  private static final double STEP = 5;
  private static final double VOLUME_M3 = 45;

  private static final double AIR_J_PER_K = 270e3;
  private static final double WALL_J_PER_K = 4.5e6;
  private static final double AIR_TO_WALL_W_PER_K = 300;
  private static final double WALL_TO_OUTDOORS_W_PER_K = 70;
  private static final double WINDOW_W_PER_K = 15;
  private static final double AIR_J_PER_M3_K = 1210;
  private static final double MOLD_LAG_SECONDS = 50 * 60;
  private static final double RESIN_LAG_SECONDS = 3 * 3600;

  private static final double HEATER_W = 4500;
  private static final double HEATED_C = 20.5;
  private static final double SETBACK_C = 9;

  private static final double SHUT_CHANGES_PER_HOUR = 0.4;
  private static final double FAN_CHANGES_PER_HOUR = 9;
  private static final double DOOR_CHANGES_PER_HOUR = 15;

  private static final double LAYUP_GRAMS = 40;
  private static final double MG_PER_M3_IN_A_PPM = 4.33;
  private static final double CLEAN_RAW = 31_000;
  private static final double TICKS_PER_DOUBLING = 870;

  /** Vapor that doubles the sensor's level over this shop's clean air, ppm: invented. */
  private static final double DOUBLING_PPM = 6;

  private static final double DAMP_C = 11;
  private static final double DAMP_SHARE = 0.88;
  private static final double DAMP_SECONDS = 6 * 60;

  private final Instant start;
  private final ZoneId zone;
  private final Random noise;
  private final List<Emission> layups = new ArrayList<>();

  private double seconds;
  private double airC;
  private double wallC;
  private double moldC;
  private double resinC;
  private double vapor;
  private double wallDampness;
  private double styrenePpm;
  private double airNoise;
  private double humidityNoise;
  private double rawNoise;
  private boolean heating;
  private boolean heaterWorks = true;
  private boolean doorOpen;
  private boolean coldAndDamp;
  private boolean ownLayups = true;
  private final List<Wipe> wipes = new ArrayList<>();
  private Fan fan = Fan.AS_USUAL;
  private double driftPerHour;
  private double drifted;

  /** Whether the fan runs: as usual only for layups. */
  private enum Fan {
    AS_USUAL,
    ON,
    OFF
  }

  /** A wipe-down with solvent: all of it is in the air within two minutes. Invented. */
  private record Wipe(double startSeconds, double grams) {
    private static final double LASTS_SECONDS = 120;

    double rate(double seconds) {
      double age = seconds - startSeconds;
      return age >= 0 && age < LASTS_SECONDS ? grams / LASTS_SECONDS : 0;
    }
  }

  /**
   * A shop as it is at {@code start}, after days like those before.
   *
   * @param seed the same seed gives the same noise
   */
  public SimulatedShop(Instant start, ZoneId zone, long seed) {
    this.zone = zone;
    this.start = start.minus(Duration.ofDays(2));
    this.noise = new Random(seed);
    airC = 13;
    wallC = 13;
    moldC = 13;
    resinC = 14;
    wallDampness = 0.55;
    vapor = wallDampness * Weather.saturationVapor(airC);
    advanceTo(start);
  }

  /** What a clean-air reading in this shop gives, raw ticks. */
  public static double cleanAirTicks() {
    return CLEAN_RAW;
  }

  /** The heater works, or has failed. */
  public synchronized void heater(boolean works) {
    heaterWorks = works;
  }

  public synchronized void door(boolean open) {
    doorOpen = open;
  }

  /** Within half an hour the room is at 11 degC and 88 % and stays so. */
  public synchronized void makeColdAndDamp() {
    coldAndDamp = true;
  }

  /** Heater, door and damp are as on a usual day again. */
  public synchronized void backToUsual() {
    coldAndDamp = false;
    heaterWorks = true;
    doorOpen = false;
    fan = Fan.AS_USUAL;
  }

  /** A fender is rolled out from now on, with the fan on. */
  public synchronized void startLayup() {
    startLayup(LAYUP_GRAMS);
  }

  /**
   * A layup is rolled out from now on, with the fan on unless it is kept off.
   *
   * @param grams of vapor that it gives off in all, above 0
   */
  public synchronized void startLayup(double grams) {
    layups.add(new Emission(seconds, grams));
  }

  /** Everything that gives off vapor is carried out; the fan goes on as it was. */
  public synchronized void partsOut() {
    boolean aired = fanRuns();
    layups.clear();
    if (fan == Fan.AS_USUAL && aired) {
      fan = Fan.ON;
    }
  }

  /** The mold is wiped down with solvent from now on, for two minutes. */
  public synchronized void wipeDown(double grams) {
    wipes.add(new Wipe(seconds, grams));
  }

  /** The fan runs from now on, or stands still whatever is done in the room. */
  public synchronized void fan(boolean on) {
    fan = on ? Fan.ON : Fan.OFF;
  }

  /** From now on the vapor chip's raw signal wanders by so much, ticks an hour. */
  public synchronized void drift(double ticksPerHour) {
    driftPerHour = ticksPerHour;
  }

  /** Styrene in the air as it really is, ppm. */
  public synchronized double styrenePpm() {
    return styrenePpm;
  }

  /** How many times this shop's clean air the vapor really is. */
  public synchronized double timesCleanAir() {
    return 1 + styrenePpm / DOUBLING_PPM;
  }

  /** Whether the shop's own calendar starts layups on some evenings. On at first. */
  public synchronized void ownLayups(boolean on) {
    ownLayups = on;
  }

  /** Moves the shop on to a moment; one that has passed changes nothing. */
  public synchronized void advanceTo(Instant moment) {
    double target = Duration.between(start, moment).toMillis() / 1000.0;
    while (seconds + STEP <= target) {
      step();
    }
  }

  /** What is so in the room now. */
  public synchronized RoomTruth truth() {
    double relative = 100 * vapor / Weather.saturationVapor(airC);
    double raw =
        CLEAN_RAW
            + drifted
            - TICKS_PER_DOUBLING * Math.log(1 + styrenePpm / DOUBLING_PPM) / Math.log(2)
            + rawNoise;
    return new RoomTruth(
        airC + airNoise,
        Math.max(0, Math.min(100, relative + humidityNoise)),
        moldC,
        resinC,
        Weather.pressurePa(seconds),
        raw);
  }

  private void step() {
    ZonedDateTime clock = start.plusMillis(Math.round(seconds * 1000)).atZone(zone);
    boolean occupied = occupied(clock);
    startOwnLayup(clock);
    layups.removeIf(layup -> seconds - layup.startSeconds() > 86_400);
    double secondsOfDay = clock.toLocalTime().toSecondOfDay();
    double outdoorC = Weather.outdoorC(secondsOfDay, seconds);
    double changes = airChangesPerHour();
    stepHeat(outdoorC, changes, occupied);
    stepMoisture(outdoorC, changes, occupied);
    stepVapor(changes);
    airNoise = 0.015 * noise.nextGaussian();
    humidityNoise = 0.08 * noise.nextGaussian();
    rawNoise = 9 * noise.nextGaussian();
    seconds += STEP;
  }

  private static boolean occupied(ZonedDateTime clock) {
    LocalTime time = clock.toLocalTime();
    LocalTime from = weekend(clock) ? LocalTime.of(8, 30) : LocalTime.of(17, 0);
    return !time.isBefore(from) && time.isBefore(LocalTime.of(22, 30));
  }

  private static boolean weekend(ZonedDateTime clock) {
    DayOfWeek day = clock.getDayOfWeek();
    return day == DayOfWeek.SATURDAY || day == DayOfWeek.SUNDAY;
  }

  /** Weekend afternoons and evenings, Tuesday and Thursday evenings. */
  private void startOwnLayup(ZonedDateTime clock) {
    if (!ownLayups) {
      return;
    }
    DayOfWeek day = clock.getDayOfWeek();
    boolean works = weekend(clock) || day == DayOfWeek.TUESDAY || day == DayOfWeek.THURSDAY;
    boolean evening = works && begins(clock, LocalTime.of(19, 30));
    boolean afternoon = weekend(clock) && begins(clock, LocalTime.of(14, 0));
    if (evening || afternoon) {
      startLayup();
    }
  }

  private static boolean begins(ZonedDateTime clock, LocalTime time) {
    double since = (clock.toLocalTime().toNanoOfDay() - time.toNanoOfDay()) / 1e9;
    return since >= 0 && since < STEP;
  }

  private double airChangesPerHour() {
    double changes = SHUT_CHANGES_PER_HOUR;
    if (fanRuns()) {
      changes = FAN_CHANGES_PER_HOUR;
    }
    return doorOpen ? changes + DOOR_CHANGES_PER_HOUR : changes;
  }

  private boolean fanRuns() {
    return switch (fan) {
      case ON -> true;
      case OFF -> false;
      case AS_USUAL -> layups.stream().anyMatch(layup -> layup.aired(seconds));
    };
  }

  private void stepHeat(double outdoorC, double changes, boolean occupied) {
    double wanted = occupied ? HEATED_C : SETBACK_C;
    if (airC < wanted - 0.4) {
      heating = true;
    } else if (airC > wanted + 0.4) {
      heating = false;
    }
    double heater = heating && heaterWorks && !coldAndDamp ? HEATER_W : 0;
    double person = occupied ? 100 : 0;
    double draft = changes * VOLUME_M3 / 3600 * AIR_J_PER_M3_K;
    double intoAir =
        heater
            + person
            + AIR_TO_WALL_W_PER_K * (wallC - airC)
            + (WINDOW_W_PER_K + draft) * (outdoorC - airC);
    double intoWall =
        AIR_TO_WALL_W_PER_K * (airC - wallC) + WALL_TO_OUTDOORS_W_PER_K * (outdoorC - wallC);
    airC += STEP * intoAir / AIR_J_PER_K;
    wallC += STEP * intoWall / WALL_J_PER_K;
    if (coldAndDamp) {
      airC += STEP / DAMP_SECONDS * (DAMP_C - airC);
      wallC += STEP / DAMP_SECONDS * (DAMP_C - wallC);
    }
    double warmth = 0;
    for (Emission layup : layups) {
      warmth += layup.warmth(seconds);
    }
    moldC += STEP / MOLD_LAG_SECONDS * (0.8 * airC + 0.2 * wallC + 4 * warmth - moldC);
    resinC += STEP / RESIN_LAG_SECONDS * (airC - resinC);
  }

  private void stepMoisture(double outdoorC, double changes, boolean occupied) {
    double saturation = Weather.saturationVapor(airC);
    double breath = (occupied ? 50 : 4) / VOLUME_M3 / 3600;
    vapor += STEP * changes / 3600 * (Weather.outdoorVapor(outdoorC, seconds) - vapor);
    vapor += STEP * breath;
    vapor += STEP / 5400 * (wallDampness * saturation - vapor);
    wallDampness += STEP / 160_000 * (vapor / saturation - wallDampness);
    if (coldAndDamp) {
      vapor += STEP / DAMP_SECONDS * (DAMP_SHARE * saturation - vapor);
      wallDampness += STEP / DAMP_SECONDS * (DAMP_SHARE - wallDampness);
    }
    vapor = Math.min(vapor, saturation);
  }

  private void stepVapor(double changes) {
    double gramsPerSecond = 0;
    for (Emission layup : layups) {
      gramsPerSecond += layup.rate(seconds);
    }
    for (Wipe wipe : wipes) {
      gramsPerSecond += wipe.rate(seconds);
    }
    drifted += STEP / 3600 * driftPerHour;
    double ppmPerGram = 1000 / VOLUME_M3 / MG_PER_M3_IN_A_PPM;
    styrenePpm += STEP * (gramsPerSecond * ppmPerGram - changes / 3600 * styrenePpm);
  }
}
