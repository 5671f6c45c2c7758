package org.layroom.dashboard.cli;

import java.util.List;
import org.layroom.predictor.limits.Refusal;

/** Input that cannot be used: exit status 2, printed as JSON too where that was asked for. */
final class RefusedInput extends RuntimeException {
  private final transient List<Refusal> refusals;

  RefusedInput(Refusal refusal) {
    this(List.of(refusal));
  }

  RefusedInput(List<Refusal> refusals) {
    super(refusals.isEmpty() ? "" : refusals.get(0).reason());
    this.refusals = List.copyOf(refusals);
  }

  List<Refusal> refusals() {
    return refusals;
  }
}
