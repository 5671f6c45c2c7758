package org.layroom.device.telemetry;

/** The name of a room in topics and file names: 1 to 32 of {@code a-z 0-9 -}. */
public record RoomName(String value) {
  public RoomName {
    NameRules.check("room", value);
  }

  /**
   * Makes a checked name.
   *
   * @throws IllegalArgumentException when the name is not 1 to 32 of {@code a-z 0-9 -}
   */
  public static RoomName of(String value) {
    return new RoomName(value);
  }

  @Override
  public String toString() {
    return value;
  }
}
