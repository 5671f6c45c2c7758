package org.layroom.dashboard.access;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * The one code that stands at a time: eight letters and digits out of 31 that do not look alike
 * (8.5 x 10^11 codes), for ten minutes, for one use and five wrong guesses; ten guesses a minute in
 * all. So whoever guesses without end meets a standing code once in 10^10 codes made. Not safe for
 * threads by itself.
 */
final class PairingCodes {
  static final Duration LIFE = Duration.ofMinutes(10);
  static final int MOST_WRONG = 5;
  static final int MOST_IN_A_MINUTE = 10;

  private static final Duration MINUTE = Duration.ofMinutes(1);
  private static final String LETTERS = "abcdefghjkmnpqrstuvwxyz23456789";
  private static final int LENGTH = 8;
  private static final int SALT_BYTES = 16;
  private static final SecureRandom RANDOM = new SecureRandom();

  /** A code with what it opens: in memory only, and there only as a salted hash. */
  private record Standing(Salted code, Role role, Duration until, int wrong) {}

  private static final class Salted {
    private final byte[] salt = new byte[SALT_BYTES];
    private final byte[] hash;

    Salted(String code) {
      RANDOM.nextBytes(salt);
      hash = hash(code);
    }

    private byte[] hash(String code) {
      try {
        MessageDigest digest = MessageDigest.getInstance("SHA-256");
        digest.update(salt);
        return digest.digest(code.getBytes(StandardCharsets.UTF_8));
      } catch (NoSuchAlgorithmException e) {
        throw new IllegalStateException("every Java has SHA-256", e);
      }
    }

    /** Takes the same time for every wrong one. */
    boolean fits(String code) {
      return MessageDigest.isEqual(hash, hash(code));
    }
  }

  /** What can be said of the standing code without giving it away. */
  record Shown(Role role, Duration left, int guessesLeft) {}

  /** What comes of a guess. */
  sealed interface Guess {
    record Right(Role role) implements Guess {}

    /**
     * Not right.
     *
     * @param died whether it was one too many for the code that stood
     */
    record Wrong(boolean died) implements Guess {}

    record TooMany(Duration pause) implements Guess {}
  }

  private final Supplier<Duration> uptime;
  private final Deque<Duration> guesses = new ArrayDeque<>();
  private Optional<Standing> standing = Optional.empty();

  PairingCodes(Supplier<Duration> uptime) {
    this.uptime = uptime;
  }

  /** Makes one, in the place of any before it. */
  String make(Role role) {
    StringBuilder code = new StringBuilder();
    for (int i = 0; i < LENGTH; i++) {
      code.append(LETTERS.charAt(RANDOM.nextInt(LETTERS.length())));
    }
    standing =
        Optional.of(new Standing(new Salted(code.toString()), role, uptime.get().plus(LIFE), 0));
    return code.insert(LENGTH / 2, '-').toString();
  }

  void withdraw() {
    standing = Optional.empty();
  }

  Optional<Shown> shown() {
    forgetOld();
    return standing.map(
        code -> new Shown(code.role, code.until.minus(uptime.get()), MOST_WRONG - code.wrong));
  }

  private void forgetOld() {
    standing = standing.filter(code -> code.until.compareTo(uptime.get()) > 0);
  }

  /** Tries one, as it was typed: small or capital letters, with or without the dash. */
  Guess guess(String typed) {
    Duration now = uptime.get();
    while (!guesses.isEmpty() && guesses.getFirst().plus(MINUTE).compareTo(now) <= 0) {
      guesses.removeFirst();
    }
    if (guesses.size() >= MOST_IN_A_MINUTE) {
      return new Guess.TooMany(guesses.getFirst().plus(MINUTE).minus(now));
    }
    guesses.addLast(now);
    forgetOld();
    if (standing.isEmpty()) {
      return new Guess.Wrong(false);
    }
    Standing code = standing.get();
    if (code.code.fits(plain(typed))) {
      standing = Optional.empty();
      return new Guess.Right(code.role);
    }
    boolean dies = code.wrong + 1 >= MOST_WRONG;
    standing =
        dies
            ? Optional.empty()
            : Optional.of(new Standing(code.code, code.role, code.until, code.wrong + 1));
    return new Guess.Wrong(dies);
  }

  private static String plain(String typed) {
    return typed.replaceAll("[\\s-]", "").toLowerCase(Locale.ROOT);
  }
}
