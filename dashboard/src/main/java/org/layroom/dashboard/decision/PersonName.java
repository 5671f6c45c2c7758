package org.layroom.dashboard.decision;

/** The name of a person who decides or has seen something. */
public final class PersonName {
  private static final int LONGEST = 60;

  private PersonName() {}

  /**
   * The name as given, stripped.
   *
   * @throws IllegalArgumentException when it is not 1 to 60 characters
   */
  public static String checked(String who) {
    String name = who.strip();
    if (name.isEmpty() || name.length() > LONGEST) {
      throw new IllegalArgumentException("Your name: enter 1 to " + LONGEST + " characters");
    }
    return name;
  }
}
