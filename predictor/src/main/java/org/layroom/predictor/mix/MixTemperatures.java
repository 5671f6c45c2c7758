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
public record MixTemperatures(
    Optional<AgedTemperature> mold,
    Optional<AgedTemperature> resin,
    OptionalDouble moldDriftKPerH,
    Optional<TemperatureOutlook> moldOutlook) {

  /** Nothing is known. */
  public static MixTemperatures unknown() {
    return new MixTemperatures(
        Optional.empty(), Optional.empty(), OptionalDouble.empty(), Optional.empty());
  }

  /** With the mold's temperature. */
  public MixTemperatures withMold(AgedTemperature reading) {
    return new MixTemperatures(Optional.of(reading), resin, moldDriftKPerH, moldOutlook);
  }

  /** With the temperature in the can. */
  public MixTemperatures withResin(AgedTemperature reading) {
    return new MixTemperatures(mold, Optional.of(reading), moldDriftKPerH, moldOutlook);
  }

  /** With the rate at which the mold temperature moves, K per hour. */
  public MixTemperatures withMoldDriftKPerH(double drift) {
    return new MixTemperatures(mold, resin, OptionalDouble.of(drift), moldOutlook);
  }

  /** With how warm the mold will be. */
  public MixTemperatures withMoldOutlook(TemperatureOutlook outlook) {
    return new MixTemperatures(mold, resin, moldDriftKPerH, Optional.of(outlook));
  }
}
