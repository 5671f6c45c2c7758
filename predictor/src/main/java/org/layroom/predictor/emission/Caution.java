package org.layroom.predictor.emission;

import java.util.Arrays;
import java.util.List;

/**
 * The cautions of the work, in one place and in this project's own words. They defer to the safety
 * data sheet, local rules and licensed practice, and to nothing here.
 */
public enum Caution {
  EYES(
      Topic.CATALYST,
      "Catalyst (MEKP) in the eye can blind. Put on goggles before you open the bottle. If it"
          + " gets in an eye, rinse with water within seconds and for 15 min, then see a doctor."),
  NO_PROMOTER(
      Topic.CATALYST,
      "Never mix catalyst directly with cobalt promoter. Never thin catalyst with acetone."),
  CATALYST_STORE(
      Topic.CATALYST,
      "Store catalyst cool, shaded and vented, away from resin, metal and rags. Soak up a spill"
          + " with wet, nonflammable absorbent."),
  LEFT_OVER(
      Topic.FIRE,
      "Leftover mixed resin heats itself. Put it in a shallow tray outdoors or under water"
          + " until it is cold, never in a bin."),
  VAPOR_BURNS(
      Topic.FIRE,
      "Liquid resin at 31 °C or warmer gives off vapor that a spark can ignite, and the vapor"
          + " sinks to the floor. No flames, glowing heaters or grinding while there is vapor."
          + " Do not operate switches in it."),
  ELECTRICS(
      Topic.FIRE,
      "The computer, relays and fan motors are not explosion-proof. Mount them outside the"
          + " layup area and above bench height."),
  HEATING(
      Topic.FIRE,
      "Heat the room before you open cans, with a sealed or oil-filled heater. Turn off pilot"
          + " lights, boilers and water heaters."),
  RAGS(Topic.FIRE, "Put solvent rags outdoors. Keep an extinguisher and an eyewash at hand."),
  EXHAUST(
      Topic.AIR,
      "Blow the air outdoors and keep the door to the house sealed. A second device on the"
          + " house side of that door always gives full warnings."),
  NOT_CERTIFIED(Topic.AIR, "Layroom is not a certified gas detector. Do not rely on smell either."),
  RESPIRATOR(
      Topic.AIR,
      "Change organic-vapor cartridges on schedule, not by smell. Sanding needs a particle"
          + " filter. A respirator does not replace a fan."),
  GLOVES(Topic.BODY, "Change gloves often."),
  HEARING(Topic.BODY, "Styrene and noise together harm hearing more than either alone."),
  ALONE(Topic.BODY, "Tell somebody when you expect to finish."),
  LIGHT_HEAD(Topic.BODY, "Headache or dizziness: leave first, ventilate afterward.");

  /** To be shown with any of them. */
  public static final String DEFERENCE =
      "The safety data sheet, local rules and licensed practice come first.";

  /** What a caution is about. */
  public enum Topic {
    CATALYST,
    FIRE,
    AIR,
    BODY
  }

  private final Topic topic;
  private final String words;

  Caution(Topic topic, String words) {
    this.topic = topic;
    this.words = words;
  }

  public Topic topic() {
    return topic;
  }

  public String words() {
    return words;
  }

  /** All cautions about one topic, in the order to show them. */
  public static List<Caution> about(Topic topic) {
    return Arrays.stream(values()).filter(one -> one.topic == topic).toList();
  }
}
