package org.layroom.dashboard.alarms;

import java.util.List;

/** One simulation: all its shops, scenario by scenario and sensor by sensor. */
public interface Shops {
  /** What it is called on the command line: {@code first} or {@code second}. */
  String name();

  /** Its shops, in the order of the table: those of one scenario after each other. */
  List<Shop> all();
}
