package org.layroom.predictor.verdict;

import java.util.Optional;
import java.util.OptionalDouble;

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

  public Conditions {
    requireTemperature("air", airC);
    requireTemperature("mold", moldC);
    requireTemperature("resin", resinC);
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

  /** With the temperature of the mold surface, -40 to 60 degC. */
  public Conditions withMoldC(Condition value) {
    return new Conditions(
        airC, humidityPct, Optional.of(value), resinC, moldDriftKPerH, moldWet, air);
  }

  /** With the temperature in the can, -40 to 60 degC. */
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

  private static void requireTemperature(String what, Optional<Condition> condition) {
    if (condition.isPresent()
        && !(condition.get().value() >= -40 && condition.get().value() <= 60)) {
      throw new IllegalArgumentException(
          what
              + " temperature "
              + condition.get().value()
              + " degC must be between -40 and 60 degC: check the sensor");
    }
  }
}
