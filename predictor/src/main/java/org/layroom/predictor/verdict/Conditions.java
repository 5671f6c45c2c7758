package org.layroom.predictor.verdict;

import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.limits.Words;

/**
 * What is known about the room before a cup is mixed. Start from {@link #nothingKnown()} and add
 * what there is.
 *
 * @param airC air temperature, degC
 * @param humidityPct relative humidity of the same air, %
 * @param moldC temperature of the mold surface, degC
 * @param resinC temperature in the can, degC
 * @param moldDriftKPerH how fast the mold temperature moves, K per hour, either sign
 * @param moldWet true when a person has seen water on the mold
 * @param air what the vapor monitor says
 */
public record Conditions(
    Optional<Condition> airC,
    Optional<Condition> humidityPct,
    Optional<Condition> moldC,
    Optional<Condition> resinC,
    OptionalDouble moldDriftKPerH,
    boolean moldWet,
    AirState air) {
  private static final double COLDEST = -40;
  private static final double HOTTEST_AIR = 60;

  /** A DS18B20's own range. */
  private static final double HOTTEST = 125;

  public Conditions {
    requireTemperature("air", airC, HOTTEST_AIR);
    requireTemperature("mold", moldC, HOTTEST);
    requireTemperature("resin", resinC, HOTTEST);
    if (humidityPct.isPresent()
        && !(humidityPct.get().value() >= 0 && humidityPct.get().value() <= 100)) {
      throw new IllegalArgumentException(
          "relative humidity " + humidityPct.get().value() + " % must be between 0 and 100 %");
    }
  }

  /** Nothing measured, nothing typed. */
  public static Conditions nothingKnown() {
    return new Conditions(
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        OptionalDouble.empty(),
        false,
        AirState.notMeasured());
  }

  /** With the air temperature, -40 to 60 degC. */
  public Conditions withAirC(Condition value) {
    return new Conditions(
        Optional.of(value), humidityPct, moldC, resinC, moldDriftKPerH, moldWet, air);
  }

  /** With the relative humidity, 0 to 100 %. */
  public Conditions withHumidityPct(Condition value) {
    return new Conditions(airC, Optional.of(value), moldC, resinC, moldDriftKPerH, moldWet, air);
  }

  /** With the temperature of the mold surface, -40 to 125 degC: molds are heated in post-cure. */
  public Conditions withMoldC(Condition value) {
    return new Conditions(
        airC, humidityPct, Optional.of(value), resinC, moldDriftKPerH, moldWet, air);
  }

  /** With the temperature in the can, -40 to 125 degC: left-over resin heats itself. */
  public Conditions withResinC(Condition value) {
    return new Conditions(
        airC, humidityPct, moldC, Optional.of(value), moldDriftKPerH, moldWet, air);
  }

  /** With the rate at which the mold temperature moves, K per hour. */
  public Conditions withMoldDriftKPerH(double value) {
    return new Conditions(airC, humidityPct, moldC, resinC, OptionalDouble.of(value), moldWet, air);
  }

  /** With what a person saw on the mold. */
  public Conditions withMoldWet(boolean value) {
    return new Conditions(airC, humidityPct, moldC, resinC, moldDriftKPerH, value, air);
  }

  /** With what the vapor monitor says. */
  public Conditions withAir(AirState value) {
    return new Conditions(airC, humidityPct, moldC, resinC, moldDriftKPerH, moldWet, value);
  }

  private static void requireTemperature(
      String what, Optional<Condition> condition, double highest) {
    if (condition.isPresent()
        && !(condition.get().value() >= COLDEST && condition.get().value() <= highest)) {
      throw new IllegalArgumentException(
          what
              + " temperature "
              + condition.get().value()
              + " °C must be between -40 and "
              + Words.plain(highest)
              + " °C: check the sensor");
    }
  }
}
