package org.layroom.predictor.cure;

import java.util.List;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;

/**
 * How far a recorded temperature has brought a layup.
 *
 * @param refused why there is no number; empty when there is one
 * @param warnings what to know about the numbers
 * @param endMinutes length of the record, minutes after mixing
 * @param equivalentHours likely hours at 20 degC that the record amounts to, by Arrhenius, cold
 *     hours in full
 * @param degreeHours likely degree-hours above {@code datumC}, cold hours along the ramp from 13 to
 *     15 degC (none below 15 degC for a part that carries load)
 * @param datumC datum of the degree-hours, degC
 * @param stages when each stage opened within the record; infinite for not within it
 */
public record CureAnswer(
    List<Refusal> refused,
    List<Warning> warnings,
    double endMinutes,
    double equivalentHours,
    double degreeHours,
    double datumC,
    List<StageTime> stages) {
  public CureAnswer {
    refused = List.copyOf(refused);
    warnings = List.copyOf(warnings);
    stages = List.copyOf(stages);
  }
}
