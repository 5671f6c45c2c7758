package org.layroom.dashboard.decision;

import java.time.Instant;
import java.util.Optional;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceSettings;

/**
 * Whether a device goes by what was decided here.
 *
 * @param told when what it was told last was decided; empty when it was told nothing
 * @param toldBy who decided that; empty where nobody is named
 * @param uses when what it goes by was decided, as it says itself
 * @param usesBy who decided that, as it says itself
 */
public record SettingsAgreement(
    State state, Optional<Instant> told, String toldBy, Optional<Instant> uses, String usesBy) {
  /** How the two stand to each other. */
  public enum State {
    /** It goes by what it was told last, or nothing was ever decided. */
    AGREED("has applied the last settings"),
    /** It was not there yet when something was decided; it takes that when it is back. */
    NOT_YET("has not received the last settings yet; it will when it is back online"),
    /**
     * It goes by something newer than is known here: another dashboard's, or from before a restore.
     */
    DEVICE_NEWER("uses settings that are not known here; save them again to replace them"),
    /** It has not said yet what it goes by. */
    UNKNOWN("has not reported its settings");

    private final String words;

    State(String words) {
      this.words = words;
    }

    /** What is so, after "the device". */
    public String words() {
      return words;
    }
  }

  static SettingsAgreement of(Optional<DeviceSettings> told, Optional<AlarmState.Uses> uses) {
    Optional<Instant> here = told.map(DeviceSettings::decided);
    Optional<Instant> there = uses.flatMap(AlarmState.Uses::settingsDecided);
    return new SettingsAgreement(
        state(here, uses.isPresent(), there),
        here,
        told.map(DeviceSettings::by).orElse(""),
        there,
        uses.map(AlarmState.Uses::settingsBy).orElse(""));
  }

  private static State state(Optional<Instant> here, boolean said, Optional<Instant> there) {
    if (!said) {
      return State.UNKNOWN;
    }
    if (here.equals(there)) {
      return State.AGREED;
    }
    boolean newer = there.isPresent() && here.filter(one -> !there.get().isAfter(one)).isEmpty();
    return newer ? State.DEVICE_NEWER : State.NOT_YET;
  }
}
