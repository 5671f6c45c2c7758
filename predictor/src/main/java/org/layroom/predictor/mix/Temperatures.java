package org.layroom.predictor.mix;

import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.cure.TemperatureOutlook;

/**
 * How warm it is and will be.
 *
 * @param mold surface of the mold
 * @param resin in the can
 * @param moldDriftKPerH how fast the mold temperature moves, K per hour, either sign
 * @param moldOutlook how warm the mold will be from mixing on; without one it stays as it is
 */
public record Temperatures(
    Optional<Reading> mold,
    Optional<Reading> resin,
    OptionalDouble moldDriftKPerH,
    Optional<TemperatureOutlook> moldOutlook) {

  /** Nothing is known. */
  public static Temperatures unknown() {
    return new Temperatures(
        Optional.empty(), Optional.empty(), OptionalDouble.empty(), Optional.empty());
  }

  /** With the mold's temperature. */
  public Temperatures withMold(Reading reading) {
    return new Temperatures(Optional.of(reading), resin, moldDriftKPerH, moldOutlook);
  }

  /** With the temperature in the can. */
  public Temperatures withResin(Reading reading) {
    return new Temperatures(mold, Optional.of(reading), moldDriftKPerH, moldOutlook);
  }

  /** With the rate at which the mold temperature moves, K per hour. */
  public Temperatures withMoldDriftKPerH(double drift) {
    return new Temperatures(mold, resin, OptionalDouble.of(drift), moldOutlook);
  }

  /** With how warm the mold will be. */
  public Temperatures withMoldOutlook(TemperatureOutlook outlook) {
    return new Temperatures(mold, resin, moldDriftKPerH, Optional.of(outlook));
  }
}
