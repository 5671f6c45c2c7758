package org.layroom.dashboard.app;

/** Which version of the program this is. */
public final class Version {
  /** As in the project's file. */
  public static final String TEXT = "0.1.0";

  private Version() {}
}
