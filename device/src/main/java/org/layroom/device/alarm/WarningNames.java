package org.layroom.device.alarm;

import java.util.Optional;

/**
 * How warnings are named to others: a name is never used again by another start of the device, and
 * one that was recorded before a restart keeps its own.
 *
 * @param run tells this start of the device from every other
 * @param recorded the watch's number of the recorded warning; 0 for none
 * @param recordedName as it was told before the restart
 */
record WarningNames(String run, long recorded, String recordedName) {
  String of(long number) {
    return recorded > 0 && number == recorded ? recordedName : run + "-" + number;
  }

  /** The watch's own number of a warning; empty when it is none of this device. */
  Optional<Long> number(String name) {
    if (recorded > 0 && name.equals(recordedName)) {
      return Optional.of(recorded);
    }
    if (!name.startsWith(run + "-")) {
      return Optional.empty();
    }
    try {
      return Optional.of(Long.parseLong(name.substring(run.length() + 1)));
    } catch (NumberFormatException e) {
      return Optional.empty();
    }
  }
}
