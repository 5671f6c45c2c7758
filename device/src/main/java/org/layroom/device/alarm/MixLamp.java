package org.layroom.device.alarm;

import java.time.Duration;
import java.util.Comparator;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.verdict.AirState;
import org.layroom.predictor.verdict.Condition;
import org.layroom.predictor.verdict.Conditions;
import org.layroom.predictor.verdict.MixCheck;
import org.layroom.predictor.verdict.State;
import org.layroom.predictor.verdict.Verdict;

/**
 * Whether the lamps may say "ready to mix": the mix check on this device's own readings, and the
 * dashboard's verdict while that is fresh; the worse of the two. Where the dashboard is away the
 * device goes on alone, inside the temperatures of the can that was last chosen there. Not safe for
 * several threads.
 */
final class MixLamp {
  /** The dashboard says its verdict every minute; as long as it calls one good. */
  static final Duration STANDS = Duration.ofMinutes(3);

  private static final double COLDEST = -40;
  private static final double HOTTEST = 125;
  private static final double HOTTEST_AIR = 60;

  /** A believed value and when it was read, by the running time. */
  private record Seen(double value, Duration at) {}

  private record Word(State verdict, Duration at) {}

  private final Map<String, Seen> seen = new HashMap<>();
  private Optional<Word> word = Optional.empty();
  private Optional<TemperatureRange> can = Optional.empty();

  /** Takes what is believed of a sample; a value that is in doubt takes the last one away too. */
  void accept(Sample sampled) {
    for (Reading reading : sampled.readings()) {
      if (reading.quality().isGood() && reading.value().isPresent()) {
        seen.put(reading.name(), new Seen(reading.value().getAsDouble(), sampled.uptime()));
      } else {
        seen.remove(reading.name());
      }
    }
  }

  /**
   * Takes what the dashboard says.
   *
   * @param uptime running time when it came
   */
  void told(RoomVerdict verdict, Duration uptime) {
    verdict.verdict().ifPresent(state -> word = Optional.of(new Word(state, uptime)));
    verdict.temperatureC().ifPresent(range -> can = Optional.of(range));
  }

  /**
   * What the lamps may say.
   *
   * @param watch the device's own watch over the air, which always counts
   * @param uptime running time now
   */
  State state(VaporWatch watch, Duration uptime) {
    Verdict own = MixCheck.check(Optional.empty(), conditions(watch, uptime));
    State air = own.air().state().state();
    State room =
        own.warm().state().state().worse(own.dry().state().state()).worse(inTheCan(uptime));
    return word.filter(one -> uptime.minus(one.at()).compareTo(STANDS) < 0)
        .map(one -> one.verdict().worse(room == State.UNKNOWN ? State.MIX : room))
        .orElse(room)
        .worse(air);
  }

  /** Mold and resin against the temperatures that the can allows. */
  private State inTheCan(Duration uptime) {
    boolean outside =
        can.isPresent()
            && (outside(mold(uptime), can.get())
                || outside(celsius(Series.RESIN_TEMPERATURE, uptime), can.get()));
    return outside ? State.NO : State.MIX;
  }

  private static boolean outside(Optional<Condition> condition, TemperatureRange range) {
    return condition.filter(one -> !one.stale() && !range.contains(one.value())).isPresent();
  }

  private Conditions conditions(VaporWatch watch, Duration uptime) {
    Conditions conditions = Conditions.nothingKnown().withAir(AirState.of(watch));
    return new Conditions(
        celsius(Series.TEMPERATURE, uptime).filter(one -> one.value() <= HOTTEST_AIR),
        Optional.ofNullable(seen.get(Series.HUMIDITY))
            .map(one -> Condition.measured(one.value(), uptime.minus(one.at()))),
        mold(uptime),
        celsius(Series.RESIN_TEMPERATURE, uptime),
        conditions.moldDriftKPerH(),
        false,
        conditions.air());
  }

  private Optional<Condition> celsius(String series, Duration uptime) {
    return Optional.ofNullable(seen.get(series)).map(one -> celsius(one, uptime));
  }

  /** The mold that counts: of several, the coldest. */
  private Optional<Condition> mold(Duration uptime) {
    return seen.entrySet().stream()
        .filter(
            one ->
                one.getKey().equals(Series.MOLD_TEMPERATURE)
                    || one.getKey().startsWith(Series.MOLD_TEMPERATURE + "/"))
        .map(Map.Entry::getValue)
        .min(Comparator.comparingDouble(Seen::value))
        .map(one -> celsius(one, uptime));
  }

  /** A surface thermometer reads further than the check takes; its ends say the same. */
  private static Condition celsius(Seen one, Duration uptime) {
    double value = Math.max(COLDEST, Math.min(one.value(), HOTTEST));
    return Condition.measured(value, uptime.minus(one.at()));
  }
}
