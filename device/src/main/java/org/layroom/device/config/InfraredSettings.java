package org.layroom.device.config;

import java.util.List;
import java.util.Optional;
import org.layroom.device.sampling.InfraredSensor;
import org.layroom.device.telemetry.DeviceName;

/**
 * The settings of a surface thermometer.
 *
 * @param mold the mold it looks at; {@code mold} for the only one
 * @param emissivity of the mold's face, 0.3 to 1
 */
public record InfraredSettings(String mold, double emissivity) {
  static final List<String> KEYS = List.of("infrared.mold", "infrared.emissivity");

  private static final String ONLY_MOLD = "mold";

  static InfraredSettings of(SettingsText text) {
    return new InfraredSettings(
        DeviceName.of(text.optional("infrared.mold").orElse(InfraredSensor.NAME)).value(),
        text.number("infrared.emissivity", 0.3, 1));
  }

  /** Whether it speaks for the device's only mold. */
  public boolean onTheOnlyMold() {
    return mold.equals(ONLY_MOLD);
  }

  public Optional<String> seriesName() {
    return onTheOnlyMold() ? Optional.empty() : Optional.of(mold);
  }
}
