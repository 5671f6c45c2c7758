package org.layroom.device.alarm;

/** A part of the alarm that hangs on a line of its own. */
public enum AlarmPart {
  MIX_LAMP("alarm.mix-lamp", "mix lamp"),
  WAIT_LAMP("alarm.wait-lamp", "wait lamp"),
  VENTILATE_LAMP("alarm.ventilate-lamp", "ventilate lamp"),
  LEAVE_LAMP("alarm.leave-lamp", "leave lamp"),
  BUZZER("alarm.buzzer", "buzzer"),
  MUTE_BUTTON("alarm.mute-button", "mute button"),
  FAN("fan.relay", "fan relay");

  private final String setting;
  private final String words;

  AlarmPart(String setting, String words) {
    this.setting = setting;
    this.words = words;
  }

  /** The setting that names its line. */
  public String setting() {
    return setting;
  }

  /** For the person in the shop. */
  public String words() {
    return words;
  }
}
