package org.layroom.dashboard.access.device;

import java.security.SecureRandom;

/**
 * Passwords that a person can type from a screen: 20 letters and digits in groups of five, without
 * those that look alike; 99 random bits.
 */
final class DevicePasswords {
  private static final String LETTERS = "abcdefghjkmnpqrstuvwxyz23456789";
  private static final int LENGTH = 20;
  private static final int GROUP = 5;
  private static final SecureRandom RANDOM = new SecureRandom();

  private DevicePasswords() {}

  static String fresh() {
    StringBuilder password = new StringBuilder();
    for (int i = 0; i < LENGTH; i++) {
      if (i > 0 && i % GROUP == 0) {
        password.append('-');
      }
      password.append(LETTERS.charAt(RANDOM.nextInt(LETTERS.length())));
    }
    return password.toString();
  }
}
