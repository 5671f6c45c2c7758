package org.layroom.predictor.vapor;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A standing warning: raised once, kept until what would end it has happened.
 *
 * @param id counts up within one watch
 * @param call never {@link AirCall#OK}
 * @param since when it was raised
 * @param why with the numbers of now, in the words that this sensor is entitled to; at least one
 * @param whatToDo what to do
 * @param endsWhen what would end it
 * @param acknowledged who has seen it
 * @param sound what is to be heard
 */
public record AirWarning(
    long id,
    AirCall call,
    Instant since,
    List<String> why,
    String whatToDo,
    String endsWhen,
    Optional<Seen> acknowledged,
    Sound sound) {
  /** Who has seen it, and when. */
  public record Seen(String who, Instant when) {}

  /** What is to be heard. The lamp stays in any case. */
  public enum Sound {
    SILENT,
    /** Once when raised, then the lamp alone. */
    ONCE,
    /** A short sound again and again until acknowledged. */
    REPEATED,
    /** Without a pause worth the name: get out. */
    URGENT
  }

  public AirWarning {
    why = List.copyOf(why);
  }
}
