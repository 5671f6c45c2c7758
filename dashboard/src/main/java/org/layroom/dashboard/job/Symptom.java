package org.layroom.dashboard.job;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Collectors;

/** What can be wrong with a part, as it is seen or felt. */
public enum Symptom {
  TACKY("tacky", "tacky surface"),
  SOFT("soft", "soft after days"),
  WRINKLED("wrinkled", "wrinkled gel coat"),
  STUCK("stuck", "stuck in the mold"),
  WARPED("warped", "warped after demolding"),
  CRACKED("cracked", "cracked"),
  PINHOLES("pinholes", "pinholes");

  private final String id;
  private final String words;

  Symptom(String id, String words) {
    this.id = id;
    this.words = words;
  }

  /** The name in JSON. */
  public String id() {
    return id;
  }

  /** The name on the page. */
  public String words() {
    return words;
  }

  /** The symptom of this id. */
  public static Optional<Symptom> of(String id) {
    return Arrays.stream(values()).filter(symptom -> symptom.id.equals(id)).findFirst();
  }

  /** All ids, for messages. */
  public static String ids() {
    return Arrays.stream(values()).map(Symptom::id).collect(Collectors.joining(", "));
  }
}
