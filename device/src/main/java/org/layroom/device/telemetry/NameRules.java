package org.layroom.device.telemetry;

import java.util.regex.Pattern;

final class NameRules {
  private static final Pattern NAME = Pattern.compile("[a-z0-9-]{1,32}");

  private NameRules() {}

  static void check(String what, String value) {
    if (!valid(value)) {
      throw new IllegalArgumentException(
          what
              + " name \""
              + value
              + "\": use 1 to 32 lower-case letters, digits and hyphens, for example \"garage\"");
    }
  }

  static boolean valid(String value) {
    return NAME.matcher(value).matches();
  }
}
