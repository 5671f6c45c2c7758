package org.layroom.dashboard.access;

import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import org.layroom.device.pace.Pace;
import org.tinylog.Logger;

/**
 * The door of a dashboard: codes are made on this machine, typed elsewhere, and turned into
 * sessions, which can be listed and ended here. Safe for any number of threads.
 */
public final class AccessControl {
  /** Printing characters, not all of them blank. */
  private static final Pattern NAME =
      Pattern.compile("(?=.*\\S)[\\p{L}\\p{M}\\p{N}\\p{P}\\p{S} ]{1,40}");

  private final PairingCodes codes;
  private final String cookieName;
  private final AccessSessions sessions;
  private final AccessSessions programs;
  private final List<Runnable> gone = new CopyOnWriteArrayList<>();
  private final List<Consumer<Code>> shown = new CopyOnWriteArrayList<>();

  /**
   * A code, to be shown once.
   *
   * @param text as it is to be typed, such as {@code abcd-2345}
   */
  public record Code(String text, Role role, Duration life) {
    /** Without the code, so that no log gets it by accident. */
    @Override
    public String toString() {
      return "Code[" + role + ", " + life + "]";
    }
  }

  /** The code that stands, without the code. */
  public record Standing(Role role, Duration left, int guessesLeft) {}

  /** The name of this dashboard's own cookie, the same at every start. */
  public String cookieName() {
    return cookieName;
  }

  private AccessControl(Path folder, Pace pace) {
    codes = new PairingCodes(pace::uptime);
    sessions = new AccessSessions(AccessSessions.Kind.DEVICES, folder, pace::now);
    programs = new AccessSessions(AccessSessions.Kind.PROGRAMS, folder, pace::now);
    cookieName = CookieName.in(folder);
  }

  /**
   * The door of the dashboard of a data folder.
   *
   * @param pace real time
   * @throws UncheckedIOException when its file cannot be read or its folder not made
   */
  public static AccessControl of(Path data, Pace pace) {
    return new AccessControl(data.resolve("access"), pace);
  }

  /** Told each time a session has ended before its time. */
  public void onGone(Runnable listener) {
    gone.add(listener);
  }

  /** Given each code that is made, to show it on this machine. */
  public void onCode(Consumer<Code> console) {
    shown.add(console);
  }

  /** Makes a code; the one before it does not open any more. */
  public Code open(Role role) {
    Code code;
    synchronized (this) {
      code = new Code(codes.make(role), role, PairingCodes.LIFE);
    }
    Logger.info("A pairing code was made here: {}", role.id());
    shown.forEach(console -> console.accept(code));
    return code;
  }

  /** The code that stands, if any. */
  public synchronized Optional<Standing> standing() {
    return codes.shown().map(code -> new Standing(code.role(), code.left(), code.guessesLeft()));
  }

  /** Takes the standing code back. */
  public synchronized void withdraw() {
    codes.withdraw();
  }

  /**
   * Somebody elsewhere types a code.
   *
   * @param name what they call their device: 1 to 40 printing characters
   * @throws IllegalArgumentException when the name is not one; the code was not tried
   * @throws UncheckedIOException when the session cannot be kept; the code is used up
   */
  public synchronized PairingAttempt pair(String typed, String name) {
    String called = called(name, "Device name");
    if (!sessions.hasPlace()) {
      return new PairingAttempt.Full(AccessSessions.MOST);
    }
    PairingCodes.Guess guess = codes.guess(typed);
    if (guess instanceof PairingCodes.Guess.Right right) {
      PairingAttempt.LetIn in = sessions.add(called, right.role());
      Logger.info("\"{}\" was paired: {}", called, right.role().id());
      return in;
    }
    if (guess instanceof PairingCodes.Guess.Wrong wrong) {
      Logger.warn(
          wrong.died()
              ? "Too many wrong codes: the pairing code was canceled"
              : "A wrong pairing code was entered");
      return new PairingAttempt.Wrong();
    }
    Logger.warn("More than {} pairing codes were tried in a minute", PairingCodes.MOST_IN_A_MINUTE);
    return new PairingAttempt.TooMany(((PairingCodes.Guess.TooMany) guess).pause());
  }

  private static String called(String name, String what) {
    String called = name.strip();
    if (!NAME.matcher(called).matches()) {
      throw new IllegalArgumentException(what + ": enter 1 to 40 printable characters");
    }
    return called;
  }

  /**
   * Makes a token for a program, which lasts until it is revoked.
   *
   * @param name 1 to 40 printing characters, of no other token
   * @throws IllegalArgumentException when the name is not one, or taken; says what to change
   * @throws UncheckedIOException when it cannot be kept; nobody is let in then
   */
  public synchronized PairingAttempt token(String name, Role role) {
    String called = called(name, "Token name");
    if (programs.all().stream().anyMatch(one -> one.name().equals(called))) {
      throw new IllegalArgumentException(
          "a token \"" + called + "\" is there; choose another name, or revoke it first");
    }
    if (!programs.hasPlace()) {
      return new PairingAttempt.Full(AccessSessions.MOST);
    }
    PairingAttempt.LetIn in = programs.add(called, role);
    Logger.info("A token was made here for \"{}\": {}", called, role.id());
    return in;
  }

  /** Which program's token this is; empty when it opens nothing. */
  public synchronized Optional<AccessSession> enterProgram(String token) {
    return programs.enter(token);
  }

  /** Every token that opens, in the order of their making. */
  public synchronized List<AccessSession> tokens() {
    return programs.all();
  }

  /**
   * Ends a token: it does not open any more, and what it listens to is closed.
   *
   * @param nameOrId as {@link AccessSession} says them
   */
  public Optional<AccessSession> revokeToken(String nameOrId) {
    return ended(programs, one -> one.id().equals(nameOrId) || one.name().equals(nameOrId));
  }

  /** Whose token this is; empty when it opens nothing. */
  public synchronized Optional<AccessSession> enter(String token) {
    return sessions.enter(token);
  }

  /** Whether a session is still good; it does not count as seen. */
  public synchronized boolean still(AccessSession session) {
    return sessions.still(session.id()) || programs.still(session.id());
  }

  /** Every device that may come in, in the order of pairing. */
  public synchronized List<AccessSession> paired() {
    return sessions.all();
  }

  /**
   * Ends a session: it does not open any more, and what it listens to is closed.
   *
   * @param id as {@link AccessSession#id} says it
   */
  public Optional<AccessSession> revoke(String id) {
    return ended(sessions, one -> one.id().equals(id));
  }

  private Optional<AccessSession> ended(AccessSessions where, Predicate<AccessSession> which) {
    Optional<AccessSession> found;
    synchronized (this) {
      found = where.all().stream().filter(which).findFirst();
      found.ifPresent(one -> where.remove(one.id()));
    }
    found.ifPresent(
        one -> {
          Logger.info("Access removed: \"{}\"", one.name());
          gone.forEach(Runnable::run);
        });
    return found;
  }
}
