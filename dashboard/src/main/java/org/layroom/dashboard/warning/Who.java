package org.layroom.dashboard.warning;

/** The name of a person who decides or has seen something. */
final class Who {
  private static final int LONGEST = 60;

  private Who() {}

  /**
   * The name as given, stripped.
   *
   * @throws IllegalArgumentException when it is not 1 to 60 characters
   */
  static String checked(String who) {
    String name = who.strip();
    if (name.isEmpty() || name.length() > LONGEST) {
      throw new IllegalArgumentException("who: write a name of 1 to " + LONGEST + " characters");
    }
    return name;
  }
}
