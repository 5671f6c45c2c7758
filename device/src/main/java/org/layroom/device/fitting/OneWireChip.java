package org.layroom.device.fitting;

import java.util.List;

/**
 * A thermometer on the 1-wire bus. It tells its own id, so that no address is tried; {@link
 * FittedThermometers} gives it its role.
 */
public record OneWireChip(String name, List<String> gives, String where) implements ChipKind {
  public OneWireChip {
    gives = List.copyOf(gives);
  }
}
