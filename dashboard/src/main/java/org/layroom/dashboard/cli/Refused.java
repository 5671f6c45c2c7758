package org.layroom.dashboard.cli;

import java.util.List;
import org.layroom.predictor.limits.Refusal;

/** Input that cannot be used: exit status 2, printed as JSON too where that was asked for. */
final class Refused extends RuntimeException {
  private final transient List<Refusal> refusals;

  Refused(Refusal refusal) {
    this(List.of(refusal));
  }

  Refused(List<Refusal> refusals) {
    super(refusals.isEmpty() ? "" : refusals.get(0).reason());
    this.refusals = List.copyOf(refusals);
  }

  List<Refusal> refusals() {
    return refusals;
  }
}
