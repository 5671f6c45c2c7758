package org.layroom.predictor.room;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.air.MoistAir;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Words;

/**
 * Learns one room reading by reading and says what it will do. A reading costs microseconds on
 * average and memory does not grow: ten weeks of ten-minute values, three days of forecasts put
 * aside, and fixed tables. Not for use by two threads at once.
 *
 * <p>Method: a structural time series (level, disturbances, daily rhythm) by a Kalman filter; a
 * ridge regression for each lead that learns what this room's habits add; a band from this room's
 * own errors. A forecast depends on the readings in their order and on nothing else.
 */
public final class RoomForecaster {
  /** Paths of an ensemble. */
  public static final int PATHS = 256;

  /** The furthest a forecast reaches. */
  public static final Duration LONGEST = Duration.ofDays(3);

  /** History below this says nothing. */
  public static final Duration LEAST_HISTORY = Duration.ofHours(3);

  /** A room not seen for longer than this is not forecast. */
  public static final Duration OLDEST_READING = Duration.ofDays(2);

  private static final int LEAST_READINGS = 4;
  private static final long AIR_SEED = 20260301;
  private static final long DEW_SEED = 20260302;

  private final Outdoors outdoors;
  private final SeriesModel air;
  private final SeriesModel mold;
  private final SeriesModel dew;
  private final JumpWatch jumps = new JumpWatch();
  private final ResponseWatch responses = new ResponseWatch();
  private long newestSecond = Long.MIN_VALUE;

  /** A forecaster that has seen nothing yet. */
  public RoomForecaster() {
    this(Optional.empty());
  }

  /**
   * A forecaster that has seen nothing yet.
   *
   * @param foretold outdoor temperature as a weather service tells it, reaching ahead, where the
   *     user has one; it then stands in for what {@link #addOutdoor} is told
   */
  public RoomForecaster(Optional<OutdoorSeries> foretold) {
    SlotSeries none = new SlotSeries();
    outdoors = new Outdoors(foretold);
    dew = new SeriesModel(none, new Outdoors(Optional.empty()));
    air = new SeriesModel(dew.series(), outdoors);
    mold = new SeriesModel(dew.series(), outdoors);
  }

  /**
   * Takes in an outdoor temperature as measured, before the room's own readings of later times.
   *
   * @param temperatureC -60 to 60 degC
   * @return false when it is older than the newest by more than its ten-minute slot: not used
   */
  public boolean addOutdoor(Instant time, double temperatureC) {
    RoomReading.requireRange("outdoor temperature", temperatureC, -60, 60, "degC");
    return outdoors.add(SlotSeries.slotOf(time.getEpochSecond()), temperatureC);
  }

  /**
   * Takes a reading in.
   *
   * @return false when it is older than the newest by more than its ten-minute slot: it is then not
   *     used. Readings that come late are put in order before they are given.
   */
  public boolean add(RoomReading reading) {
    long second = reading.time().getEpochSecond();
    long slot = SlotSeries.slotOf(second);
    if (newestSecond != Long.MIN_VALUE && slot < SlotSeries.slotOf(newestSecond)) {
      return false;
    }
    newestSecond = Math.max(newestSecond, second);
    if (reading.humidityPct().isPresent() && reading.airC().isPresent()) {
      dew.add(
          slot,
          MoistAir.dewPointC(
              reading.airC().getAsDouble(), Math.max(1, reading.humidityPct().getAsDouble())));
    }
    reading
        .airC()
        .ifPresent(
            value -> {
              jumps.add(slot, value, air);
              if (air.series().last() != slot && air.slotsSeen() > 0) {
                responses.see(air.series().last(), air.series(), mold.series());
              }
              air.add(slot, value);
            });
    reading.moldC().ifPresent(value -> mold.add(slot, value));
    return true;
  }

  /** How the room has answered to heating and airing so far. */
  public RoomResponse response() {
    return responses.response();
  }

  /**
   * The room from a time on.
   *
   * @param at not before the newest reading: rows after it must not have been added
   * @param length 10 min to 72 h
   */
  public RoomAnswer forecast(Instant at, Duration length) {
    if (at.getEpochSecond() < newestSecond) {
      throw new IllegalArgumentException(
          "forecast from "
              + at
              + " would know readings up to "
              + Instant.ofEpochSecond(newestSecond)
              + ": ask for that time or later");
    }
    int steps = (int) (length.toMinutes() / SeriesForecast.STEP_MINUTES);
    if (steps < 1 || length.compareTo(LONGEST) > 0) {
      throw new IllegalArgumentException(
          "forecast of " + length.toMinutes() + " min must be 10 min to 72 h long");
    }
    List<Refusal> refused = refusals(at);
    return refused.isEmpty() ? answer(at, steps) : new NoForecast(refused);
  }

  private List<Refusal> refusals(Instant at) {
    long newest = air.series().last();
    if (air.slotsSeen() == 0) {
      return List.of(refusal("no readings", "there is no air temperature before this time"));
    }
    double hours = (double) (newest - air.firstSlot()) / SlotSeries.PER_HOUR;
    if (hours < LEAST_HISTORY.toHours() || air.slotsSeen() < LEAST_READINGS) {
      return List.of(
          refusal(
              air.slotsSeen() + " ten-minute values over " + Words.number(hours, 1) + " h",
              "there are too few readings of this room"));
    }
    double age = (at.getEpochSecond() / (double) SlotSeries.SECONDS - newest) / SlotSeries.PER_HOUR;
    if (age > OLDEST_READING.toHours()) {
      return List.of(
          new Refusal(
              "history",
              "newest air temperature " + Words.number(age, 0) + " h old",
              OLDEST_READING.toHours() + " h",
              "The last reading is too old. Get the sensor working again, or ask for an earlier"
                  + " time."));
    }
    return List.of();
  }

  private static Refusal refusal(String value, String why) {
    return new Refusal(
        "history",
        value,
        LEAST_HISTORY.toHours() + " h with at least " + LEAST_READINGS + " readings",
        "No forecast: "
            + why
            + ". A forecast needs three hours of readings before its start; a day of readings"
            + " makes it useful.");
  }

  private RoomForecast answer(Instant at, int steps) {
    SeriesOutlook airOutlook = air.outlook();
    int hours = steps / SlotSeries.PER_HOUR + 2;
    SeriesForecastBuilder.Scores scores =
        () -> ErrorPaths.draw(airOutlook.filter(), hours, PATHS, AIR_SEED);
    SeriesForecastBuilder maker = new SeriesForecastBuilder(at, steps);
    SeriesForecast airCourse = maker.course(airOutlook, scores);
    Optional<SeriesForecast> moldCourse =
        known(mold, at) ? Optional.of(maker.course(mold.outlook(), scores)) : Optional.empty();
    Optional<SeriesForecast> humidity = Optional.empty();
    if (known(dew, at)) {
      SeriesOutlook dewOutlook = dew.outlook();
      humidity =
          Optional.of(
              maker.humidity(
                  airOutlook,
                  scores,
                  dewOutlook,
                  () -> ErrorPaths.draw(dewOutlook.filter(), hours, PATHS, DEW_SEED)));
    }
    return new RoomForecast(
        at,
        Duration.ofMinutes((long) steps * SeriesForecast.STEP_MINUTES),
        airCourse,
        moldCourse,
        humidity,
        new RoomSkill(air.nights().count(), air.nights().meanAbsoluteError()),
        jumps.since(at.minus(LONGEST)),
        Duration.ofSeconds(
            Math.max(0, at.getEpochSecond() - air.series().last() * SlotSeries.SECONDS)));
  }

  private static boolean known(SeriesModel model, Instant at) {
    return model.slotsSeen() >= LEAST_READINGS
        && model.series().last() - model.firstSlot()
            >= LEAST_HISTORY.toHours() * SlotSeries.PER_HOUR
        && SlotSeries.slotOf(at.getEpochSecond()) - model.series().last()
            <= OLDEST_READING.toHours() * SlotSeries.PER_HOUR;
  }

  /** The line and band of the air alone, for measuring: what {@link #forecast} would give. */
  List<ForecastPoint> airPoints(Instant at, int steps) {
    return new SeriesForecastBuilder(at, steps).points(air.outlook());
  }
}
