package org.layroom.dashboard.job;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Collectors;
import org.layroom.predictor.cure.Stage;

/** What one step of a part is, from waxing the mold to taking the part out of it. */
public enum StepKind {
  WAX_COAT(
      "wax-coat",
      "wax coat",
      15,
      15,
      "Buff it when it has hazed. Damp air takes longer. A new mold needs more coats."),
  RELEASE_MIST(
      "release-mist",
      "fine release mist",
      10,
      10,
      "Wait until it is dry to the touch; longer in damp air."),
  PVA_COAT(
      "pva-coat",
      "PVA coat",
      20,
      30,
      "Spray a wet coat and wait until it is dry to the touch; longer in damp air."),
  GEL_COAT("gel-coat", "gel coat", Stage.READY_TO_LAMINATE),
  LAYER("layer", "layer", Stage.GREEN_TRIM),
  FINISH_COAT("finish-coat", "finish coat", Stage.FILM_GEL),
  JOIN("join", "joining parts", Stage.FILM_GEL),
  TRIM("trim", "trim"),
  DEMOLD("demold", "demold");

  /** How a part is checked by hand before it is demolded. */
  public static final String HAND_CHECK =
      "Check by hand first: no fingernail mark on the flange, a hard sound when tapped, no give.";

  /**
   * How long a coat that is not mixed waits (common practice, no source).
   *
   * @param earliestMinutes from putting it on
   * @param latestMinutes in ordinary air
   */
  public record Wait(int earliestMinutes, int latestMinutes, String words) {}

  private final String id;
  private final String words;
  private final int earliestMinutes;
  private final int latestMinutes;
  private final String waitWords;
  private final Optional<Stage> ready;

  StepKind(String id, String words) {
    this(id, words, 0, 0, "", Optional.empty());
  }

  StepKind(String id, String words, int earliestMinutes, int latestMinutes, String waitWords) {
    this(id, words, earliestMinutes, latestMinutes, waitWords, Optional.empty());
  }

  StepKind(String id, String words, Stage ready) {
    this(id, words, 0, 0, "", Optional.of(ready));
  }

  StepKind(
      String id,
      String words,
      int earliestMinutes,
      int latestMinutes,
      String waitWords,
      Optional<Stage> ready) {
    this.id = id;
    this.words = words;
    this.earliestMinutes = earliestMinutes;
    this.latestMinutes = latestMinutes;
    this.waitWords = waitWords;
    this.ready = ready;
  }

  /** The name in JSON. */
  public String id() {
    return id;
  }

  /** The name on the page. */
  public String words() {
    return words;
  }

  /** How long a coat waits; empty for steps that are mixed or done by hand. */
  public Optional<Wait> waits() {
    return latestMinutes == 0
        ? Optional.empty()
        : Optional.of(new Wait(earliestMinutes, latestMinutes, waitWords));
  }

  /** The stage of its mix from which the next step may begin; empty where nothing is mixed. */
  public Optional<Stage> readyAt() {
    return ready;
  }

  /** Whether resin or gel coat is mixed for it. */
  public boolean isMixed() {
    return ready.isPresent();
  }

  /** The kind of this id. */
  public static Optional<StepKind> of(String id) {
    return Arrays.stream(values()).filter(kind -> kind.id.equals(id)).findFirst();
  }

  /** All ids, for messages. */
  public static String ids() {
    return Arrays.stream(values()).map(StepKind::id).collect(Collectors.joining(", "));
  }
}
