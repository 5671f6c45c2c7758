package org.layroom.device.telemetry;

/** The name of a device in topics and file names: 1 to 32 of {@code a-z 0-9 -}. */
public record DeviceName(String value) {
  public DeviceName {
    NameRules.check("device", value);
  }

  /**
   * Makes a checked name.
   *
   * @throws IllegalArgumentException when the name is not 1 to 32 of {@code a-z 0-9 -}
   */
  public static DeviceName of(String value) {
    return new DeviceName(value);
  }

  @Override
  public String toString() {
    return value;
  }
}
