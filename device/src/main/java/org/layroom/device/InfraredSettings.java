package org.layroom.device;

import java.util.List;
import java.util.Optional;
import org.layroom.device.sampling.InfraredPart;
import org.layroom.device.telemetry.DeviceName;

/**
 * The settings of a surface thermometer.
 *
 * @param mold the mold it looks at; {@code mold} for the only one
 * @param emissivity of the mold's face, 0.3 to 1
 */
record InfraredSettings(String mold, double emissivity) {
  static final List<String> KEYS = List.of("infrared.mold", "infrared.emissivity");

  private static final String ONLY_MOLD = "mold";

  static InfraredSettings of(SettingsText text) {
    return new InfraredSettings(
        DeviceName.of(text.optional("infrared.mold").orElse(InfraredPart.NAME)).value(),
        text.number("infrared.emissivity", 0.3, 1));
  }

  /** Whether it speaks for the device's only mold. */
  boolean onTheOnlyMold() {
    return mold.equals(ONLY_MOLD);
  }

  Optional<String> seriesName() {
    return onTheOnlyMold() ? Optional.empty() : Optional.of(mold);
  }
}
