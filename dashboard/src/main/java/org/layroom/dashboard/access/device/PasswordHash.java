package org.layroom.dashboard.access.device;

import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.crypto.SecretKeyFactory;
import javax.crypto.spec.PBEKeySpec;

/**
 * A password's hash in the form of mosquitto's password files: {@code $7$iterations$salt$hash},
 * PBKDF2 (RFC 8018) with HMAC-SHA512, 64 bytes, salt and hash in Base64. mosquitto's own count of
 * iterations is kept: what is hashed here are 100 random bits, which no count makes easier or
 * harder to guess, and each connection of a device costs a Pi this much.
 */
record PasswordHash(int iterations, String salt, String hash) {
  private static final int ITERATIONS = 101;
  private static final int SALT_BYTES = 12;
  private static final int HASH_BYTES = 64;
  private static final int MOST_ITERATIONS = 1_000_000;
  private static final SecureRandom RANDOM = new SecureRandom();
  private static final Pattern FORM =
      Pattern.compile("\\$7\\$([1-9][0-9]{0,6})\\$([A-Za-z0-9+/]+={0,2})\\$([A-Za-z0-9+/]+={0,2})");

  static PasswordHash of(String password) {
    byte[] salt = new byte[SALT_BYTES];
    RANDOM.nextBytes(salt);
    Base64.Encoder encoder = Base64.getEncoder();
    return new PasswordHash(
        ITERATIONS,
        encoder.encodeToString(salt),
        encoder.encodeToString(hash(password, salt, ITERATIONS)));
  }

  /** Reads one; empty when it is of another form. */
  static Optional<PasswordHash> parse(String text) {
    Matcher form = FORM.matcher(text);
    if (!form.matches() || Integer.parseInt(form.group(1)) > MOST_ITERATIONS) {
      return Optional.empty();
    }
    PasswordHash parsed =
        new PasswordHash(Integer.parseInt(form.group(1)), form.group(2), form.group(3));
    try {
      return Base64.getDecoder().decode(parsed.salt).length > 0
              && Base64.getDecoder().decode(parsed.hash).length == HASH_BYTES
          ? Optional.of(parsed)
          : Optional.empty();
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** Whether this is the password; takes the same time for every wrong one. */
  boolean fits(String password) {
    Base64.Decoder decoder = Base64.getDecoder();
    return MessageDigest.isEqual(
        decoder.decode(hash), hash(password, decoder.decode(salt), iterations));
  }

  private static byte[] hash(String password, byte[] salt, int iterations) {
    try {
      return SecretKeyFactory.getInstance("PBKDF2WithHmacSHA512")
          .generateSecret(
              new PBEKeySpec(password.toCharArray(), salt, iterations, HASH_BYTES * Byte.SIZE))
          .getEncoded();
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java has PBKDF2WithHmacSHA512", e);
    }
  }

  String text() {
    return "$7$%d$%s$%s".formatted(iterations, salt, hash);
  }
}
