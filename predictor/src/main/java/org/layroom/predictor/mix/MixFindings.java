package org.layroom.predictor.mix;

import java.util.ArrayList;
import java.util.List;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;

/** Refusals and warnings of one question, in the order in which they are found. */
final class MixFindings {
  private final List<Refusal> refused = new ArrayList<>();
  private final List<Warning> warnings = new ArrayList<>();

  void refuse(String field, String value, String limit, String reason) {
    refused.add(new Refusal(field, value, limit, reason));
  }

  void warn(String field, String value, String limit, String reason) {
    warnings.add(new Warning(field, value, limit, reason));
  }

  boolean isRefused() {
    return !refused.isEmpty();
  }

  List<Refusal> refused() {
    return refused;
  }

  List<Warning> warnings() {
    return warnings;
  }
}
