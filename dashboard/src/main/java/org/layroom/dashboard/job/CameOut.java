package org.layroom.dashboard.job;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Collectors;

/** How a part came out of its mold, told with the tap that it is out. */
public enum CameOut {
  FINE("fine", Optional.empty()),
  SOFT("soft", Optional.of(Symptom.SOFT)),
  STUCK("stuck", Optional.of(Symptom.STUCK)),
  WARPED("warped", Optional.of(Symptom.WARPED));

  private final String id;
  private final Optional<Symptom> symptom;

  CameOut(String id, Optional<Symptom> symptom) {
    this.id = id;
    this.symptom = symptom;
  }

  /** The name in JSON. */
  public String id() {
    return id;
  }

  /** What was wrong with it; empty when it came out fine. */
  public Optional<Symptom> symptom() {
    return symptom;
  }

  /** The one of this id. */
  public static Optional<CameOut> of(String id) {
    return Arrays.stream(values()).filter(one -> one.id.equals(id)).findFirst();
  }

  /** All ids, for messages. */
  public static String ids() {
    return Arrays.stream(values()).map(CameOut::id).collect(Collectors.joining(", "));
  }
}
