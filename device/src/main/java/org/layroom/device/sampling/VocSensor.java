package org.layroom.device.sampling;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * The SGP40's raw signal with its quality. Signs that point toward cleaner air make the value
 * doubtful or missing; the same signs toward more vapor never do, because there they are the
 * message. A doubtful value is kept: whoever warns must see it.
 */
public final class VocSensor implements Sensor {
  private static final SeriesName RAW = new SeriesName(Series.VOC_RAW, Series.NO_UNIT);

  /** The first minute after power-on says nothing (this project's choice). */
  static final Duration DISCARDED = Duration.ofMinutes(1);

  /** The heater's surface needs this long to come to rest (this project's choice). */
  static final Duration SETTLING = Duration.ofHours(1);

  /** A live signal never stands still for this long (this project's choice). */
  private static final Duration STUCK = Duration.ofMinutes(2);

  private static final int FEWEST_EQUAL = 5;

  /**
   * A chip that gave nothing for longer, and more than once, may have been without power, so that
   * its warm-up begins anew; less is a hiccup on the wire (this project's choice).
   */
  private static final Duration SILENCE = Duration.ofSeconds(30);

  private static final int FEWEST_MISSED = 3;

  /** No room clears this fast between two readings (this project's choice), ticks. */
  private static final int JUMP = 5000;

  private static final int CLEAN_END = 65_535;

  private final Sgp40 chip;
  private final ValueOrigin origin;
  private Optional<Duration> poweredSince = Optional.empty();
  private int last = -1;
  private Duration sameSince = Duration.ZERO;
  private int equal;
  private Duration answeredAt = Duration.ZERO;
  private int missed;

  /** A chip that is taken to have been switched on at its first answer. */
  public VocSensor(Sgp40 chip, ValueOrigin origin) {
    this.chip = chip;
    this.origin = origin;
  }

  /** A simulated chip that has been on for a time before its device started. */
  public static VocSensor poweredFor(Duration already, Sgp40 chip, ValueOrigin origin) {
    VocSensor sensor = new VocSensor(chip, origin);
    sensor.poweredSince = Optional.of(already.negated());
    return sensor;
  }

  @Override
  public String name() {
    return "vapor sensor SGP40";
  }

  @Override
  public List<SeriesName> series() {
    return List.of(RAW);
  }

  @Override
  public Outcome read(SamplingRound round) {
    ChipRead<Integer> read = answer(round);
    if (read instanceof ChipRead.Value<Integer> value && leaps(value.value())) {
      read = answer(round);
    }
    if (read instanceof ChipRead.Failed<Integer> failed) {
      missed++;
      return failed(failed.reason());
    }
    if (missed >= FEWEST_MISSED && round.uptime().minus(answeredAt).compareTo(SILENCE) > 0) {
      poweredSince = Optional.empty();
      last = -1;
    }
    missed = 0;
    answeredAt = round.uptime();
    int raw = ((ChipRead.Value<Integer>) read).value();
    return judged(raw, round);
  }

  private ChipRead<Integer> answer(SamplingRound round) {
    return round
        .air()
        .map(air -> chip.read(air.temperatureC(), air.humidityPct()))
        .orElseGet(chip::readUncorrected);
  }

  /**
   * Whether a value lies so far from the last that it is asked for again: a word spoiled on the
   * wire passes the checksum of 8 bits once in 256 times, and is not spoiled in the same way twice.
   */
  private boolean leaps(int raw) {
    return last >= 0 && Math.abs(raw - last) > JUMP;
  }

  private Outcome judged(int raw, SamplingRound round) {
    if (poweredSince.isEmpty()) {
      poweredSince = Optional.of(round.uptime());
    }
    Duration powered = round.uptime().minus(poweredSince.get());
    if (origin == ValueOrigin.LIVE && powered.compareTo(DISCARDED) < 0) {
      return new Outcome(
          List.of(missing("warming up: the first minute is not used")), Optional.empty());
    }
    if (raw == CLEAN_END) {
      last = raw;
      return failed("at the clean end of its range");
    }
    int before = last;
    Duration same = remember(raw, round.uptime());
    return Outcome.of(
        List.of(
            Reading.of(RAW.name(), RAW.unit(), raw, quality(raw, before, same, powered, round))));
  }

  private Quality quality(
      int raw, int before, Duration same, Duration powered, SamplingRound round) {
    if (raw == 0) {
      return Quality.suspect("at the end of its range: at least this much vapor");
    }
    if (before >= 0 && raw - before > JUMP) {
      return Quality.suspect("jumped toward clean by " + (raw - before) + " ticks");
    }
    if (origin == ValueOrigin.LIVE && equal >= FEWEST_EQUAL && same.compareTo(STUCK) >= 0) {
      return Quality.suspect("stuck: the same value for " + same.toSeconds() + " s");
    }
    if (round.air().isEmpty()) {
      return Quality.suspect("not corrected: air temperature and humidity are missing");
    }
    if (origin == ValueOrigin.LIVE && powered.compareTo(SETTLING) < 0) {
      return Quality.suspect("settling during the first hour");
    }
    return Quality.good();
  }

  private Duration remember(int raw, Duration at) {
    if (raw == last) {
      equal++;
    } else {
      equal = 1;
      sameSince = at;
    }
    last = raw;
    return at.minus(sameSince);
  }

  private static Reading missing(String reason) {
    return Reading.missing(RAW.name(), RAW.unit(), reason);
  }
}
