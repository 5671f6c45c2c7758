package org.layroom.device.sampling;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * Compares sensors with each other: two that should agree, and the air with the mold when both have
 * been at rest for long, where warmer air means a sensor warmed by its box. Doubts values, changes
 * none; what is doubted already stays so. The limits are this project's own choice, no authority.
 */
public final class Crosscheck {
  /** Two air sensors beside each other, degC and % relative humidity. */
  private static final double AIR_APART = 2;

  private static final double HUMIDITY_APART = 10;

  /** A thermometer on the back of a mold and one that looks at its face, degC. */
  private static final double MOLD_APART = 4;

  /** Shorter disagreements are drafts and hands. */
  private static final Duration DISAGREED = Duration.ofMinutes(10);

  /** Mold and air count as at rest while they stay this near to where they were, degC. */
  private static final double MOLD_RESTS = 0.3;

  private static final double AIR_RESTS = 1;
  private static final Duration RESTED = Duration.ofHours(3);

  /** How much warmer air than mold is not believed at rest, degC. */
  private static final double WARMER = 3;

  static final String INFRARED = Series.MOLD_TEMPERATURE + "/" + InfraredSensor.NAME;

  private final Since temperatureApart = new Since();
  private final Since humidityApart = new Since();
  private final Since moldApart = new Since();
  private Optional<Rest> rest = Optional.empty();

  /** Mold and air where they were when they came to rest. */
  private record Rest(double airC, double moldC, Duration since) {
    boolean holds(double air, double mold) {
      return Math.abs(air - airC) <= AIR_RESTS && Math.abs(mold - moldC) <= MOLD_RESTS;
    }
  }

  /** How long something has been so without a break. */
  private static final class Since {
    private Optional<Duration> from = Optional.empty();

    boolean longEnough(boolean now, Duration at) {
      from = now ? Optional.of(from.orElse(at)) : Optional.empty();
      return from.filter(start -> at.minus(start).compareTo(DISAGREED) >= 0).isPresent();
    }
  }

  /** The readings of a round, doubted where they do not go together. */
  List<Reading> judge(List<Reading> readings, SamplingRound round) {
    Optional<Double> air = value(readings, Series.TEMPERATURE);
    Optional<Double> humidity = value(readings, Series.HUMIDITY);
    Optional<Double> mold = value(readings, Series.MOLD_TEMPERATURE);
    Optional<Double> infrared = value(readings, INFRARED);
    Optional<String> airDoubt =
        apart(
                air,
                round.beside().map(SamplingRound.Air::temperatureC),
                AIR_APART,
                temperatureApart,
                round)
            .map(by -> disagrees("BME280 beside it", by, "°C"))
            .or(() -> warmed(air, mold, round.uptime()));
    Optional<String> humidityDoubt =
        apart(
                humidity,
                round.beside().map(SamplingRound.Air::humidityPct),
                HUMIDITY_APART,
                humidityApart,
                round)
            .map(by -> disagrees("BME280 beside it", by, "%"));
    Optional<String> infraredDoubt =
        apart(infrared, mold, MOLD_APART, moldApart, round)
            .map(by -> disagrees("thermometer on the mold", by, "°C"));
    return readings.stream()
        .map(one -> doubted(one, Series.TEMPERATURE, airDoubt))
        .map(one -> doubted(one, Series.HUMIDITY, humidityDoubt))
        .map(one -> doubted(one, INFRARED, infraredDoubt))
        .toList();
  }

  /** By how much two that should agree have been apart for long. */
  private static Optional<Double> apart(
      Optional<Double> one,
      Optional<Double> other,
      double limit,
      Since since,
      SamplingRound round) {
    Optional<Double> by = one.flatMap(a -> other.map(b -> Math.abs(a - b)));
    boolean now = by.filter(difference -> difference > limit).isPresent();
    return since.longEnough(now, round.uptime()) ? by : Optional.empty();
  }

  private Optional<String> warmed(Optional<Double> air, Optional<Double> mold, Duration at) {
    if (air.isEmpty() || mold.isEmpty()) {
      rest = Optional.empty();
      return Optional.empty();
    }
    rest =
        Optional.of(
            rest.filter(known -> known.holds(air.get(), mold.get()))
                .orElseGet(() -> new Rest(air.get(), mold.get(), at)));
    double by = air.get() - mold.get();
    return at.minus(rest.get().since()).compareTo(RESTED) >= 0 && by > WARMER
        ? Optional.of(
            String.format(
                Locale.ROOT,
                "%.1f °C warmer than the mold when both are at rest: is it warmed by its box,"
                    + " the Pi or the sun?",
                by))
        : Optional.empty();
  }

  private static String disagrees(String with, double by, String unit) {
    return String.format(Locale.ROOT, "disagrees with the %s by %.1f %s", with, by, unit);
  }

  private static Optional<Double> value(List<Reading> readings, String name) {
    return readings.stream()
        .filter(one -> one.name().equals(name) && one.value().isPresent())
        .map(one -> one.value().getAsDouble())
        .findFirst();
  }

  private static Reading doubted(Reading reading, String name, Optional<String> doubt) {
    return reading.name().equals(name)
            && doubt.isPresent()
            && reading.value().isPresent()
            && reading.quality().isGood()
        ? Reading.of(
            name, reading.unit(), reading.value().getAsDouble(), Quality.suspect(doubt.get()))
        : reading;
  }
}
