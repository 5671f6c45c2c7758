package org.layroom.predictor.mix;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;

/**
 * The answer to a mix question. When it is refused there is no dose; from 10 to 15 degC the gel
 * time is shown all the same.
 *
 * @param refused why there is no dose, each with what to change
 * @param warnings what to know before mixing; those that begin with "Wait" are reasons to wait,
 *     after which the person may go on
 * @param dose what to measure out
 * @param gelMinutes gel time in the cup
 * @param workingMinutes likely time to work with a cup: 0.7 of the likely gel time
 * @param cups in the order in which they are mixed
 * @param stages from the mixing of the first cup; those of the part (trim, ready to laminate,
 *     demold, load) count from the cup that is mixed last
 * @param demold how the time until the part may leave the mold is known; empty when refused
 * @param heat how hot the laminate gets; empty where its thickness was not said
 * @param leftover what to do with what is left in the cup, and by when; empty when refused
 * @param confidence words on how sure this can is
 */
public record MixAnswer(
    List<Refusal> refused,
    List<Warning> warnings,
    Optional<Dose> dose,
    Optional<Band> gelMinutes,
    OptionalDouble workingMinutes,
    List<Cup> cups,
    List<StageTime> stages,
    Optional<DemoldOutlook> demold,
    Optional<HeatOutlook> heat,
    Optional<Leftover> leftover,
    String confidence) {
  public MixAnswer {
    refused = List.copyOf(refused);
    warnings = List.copyOf(warnings);
    cups = List.copyOf(cups);
    stages = List.copyOf(stages);
  }
}
