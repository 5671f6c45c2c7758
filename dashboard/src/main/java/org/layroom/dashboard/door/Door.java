package org.layroom.dashboard.door;

import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import java.util.regex.Pattern;
import org.layroom.device.pace.Pace;
import org.tinylog.Logger;

/**
 * The door of a dashboard: codes are made on this machine, typed elsewhere, and turned into
 * sessions, which can be listed and ended here. Safe for any number of threads.
 */
public final class Door {
  /** Printing characters, not all of them blank. */
  private static final Pattern NAME =
      Pattern.compile("(?=.*\\S)[\\p{L}\\p{M}\\p{N}\\p{P}\\p{S} ]{1,40}");

  private final Codes codes;
  private final Sessions sessions;
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

  private Door(Path folder, Pace pace) {
    codes = new Codes(pace::uptime);
    sessions = new Sessions(folder, pace::now);
  }

  /**
   * The door of the dashboard of a data folder.
   *
   * @param pace real time
   * @throws UncheckedIOException when its file cannot be read or its folder not made
   */
  public static Door of(Path data, Pace pace) {
    return new Door(data.resolve("access"), pace);
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
      code = new Code(codes.make(role), role, Codes.LIFE);
    }
    Logger.info("A code for pairing was made here: {}", role.id());
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
  public synchronized Entry pair(String typed, String name) {
    String called = name.strip();
    if (!NAME.matcher(called).matches()) {
      throw new IllegalArgumentException("give this device a name of 1 to 40 printing characters");
    }
    if (!sessions.hasPlace()) {
      return new Entry.Full(Sessions.MOST);
    }
    Codes.Guess guess = codes.guess(typed);
    if (guess instanceof Codes.Guess.Right right) {
      Entry.LetIn in = sessions.add(called, right.role());
      Logger.info("\"{}\" was paired: {}", called, right.role().id());
      return in;
    }
    if (guess instanceof Codes.Guess.Wrong wrong) {
      Logger.warn(
          wrong.died()
              ? "A wrong code was typed once too often: the code that stood is withdrawn"
              : "A wrong code was typed");
      return new Entry.Wrong();
    }
    Logger.warn("More codes are tried than {} in a minute", Codes.MOST_IN_A_MINUTE);
    return new Entry.TooMany(((Codes.Guess.TooMany) guess).pause());
  }

  /** Whose token this is; empty when it opens nothing. */
  public synchronized Optional<Session> enter(String token) {
    return sessions.enter(token);
  }

  /** Whether a session is still good; it does not count as seen. */
  public synchronized boolean still(Session session) {
    return sessions.still(session.id());
  }

  /** Every device that may come in, in the order of pairing. */
  public synchronized List<Session> paired() {
    return sessions.all();
  }

  /**
   * Ends a session: it does not open any more, and what it listens to is closed.
   *
   * @param id as {@link Session#id} says it
   */
  public Optional<Session> revoke(String id) {
    Optional<Session> found;
    synchronized (this) {
      found = sessions.all().stream().filter(one -> one.id().equals(id)).findFirst();
      found.ifPresent(one -> sessions.remove(one.id()));
    }
    found.ifPresent(
        one -> {
          Logger.info("\"{}\" does not come in any more", one.name());
          gone.forEach(Runnable::run);
        });
    return found;
  }
}
