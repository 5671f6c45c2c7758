package org.layroom.dashboard.warning;

import org.layroom.device.telemetry.AlarmState;

/** The texts of a device's alarm as the page can show them: a few, of one line, of a sentence. */
final class DeviceWords {
  private static final int LONGEST = 200;
  private static final int MOST = 5;

  private DeviceWords() {}

  static AlarmState cut(AlarmState said) {
    return new AlarmState(
        said.state(),
        said.since(),
        said.id(),
        said.acknowledged(),
        said.why().stream().limit(MOST).map(DeviceWords::cut).toList(),
        cut(said.whatToDo()),
        cut(said.endsWhen()),
        said.uses());
  }

  private static String cut(String text) {
    String line = text.replaceAll("[\\p{Cntrl}\\p{Cf}\u2028\u2029]+", " ").strip();
    return line.length() <= LONGEST ? line : line.substring(0, LONGEST - 3) + "...";
  }
}
