package org.layroom.predictor.fumes;

import java.util.Arrays;
import java.util.List;

/**
 * The cautions of the work, in one place and in this project's own words. They defer to the safety
 * data sheet, local rules and licensed practice, and to nothing here.
 */
public enum Caution {
  EYES(
      Topic.CATALYST,
      "Catalyst (MEKP) in an eye can blind. Goggles on before the bottle is opened; water within"
          + " seconds, for 15 min, then a doctor."),
  NO_PROMOTER(
      Topic.CATALYST,
      "Never bring catalyst and cobalt promoter together, and never thin catalyst with acetone."),
  CATALYST_STORE(
      Topic.CATALYST,
      "Keep catalyst cool, shaded and vented, away from resin, metal and rags. Take up a spill with"
          + " something wet that does not burn."),
  LEFT_OVER(
      Topic.FIRE,
      "Left-over mixed resin heats itself. Put it in a shallow tray outdoors or under water until it"
          + " is cold, never in a bin."),
  VAPOR_BURNS(
      Topic.FIRE,
      "Styrene vapor can catch fire from 31 °C on and sinks to the floor. No flames, glowing"
          + " heaters or grinding while it is in the air, and nothing is switched in it."),
  ELECTRICS(
      Topic.FIRE,
      "The computer, relays and fan motors are not explosion-protected: mount them outside the wet"
          + " area and above bench height."),
  HEATING(
      Topic.FIRE,
      "Heat the room before cans are opened, with a sealed or oil-filled heater. Pilot lights,"
          + " boilers and water heaters off."),
  RAGS(Topic.FIRE, "Solvent rags go outdoors. Have an extinguisher and an eyewash at hand."),
  EXHAUST(
      Topic.AIR,
      "Blow the air outdoors and keep the door to the house sealed. A second device on the house"
          + " side of that door keeps its full warnings."),
  NOT_CERTIFIED(Topic.AIR, "This monitor is no certified gas detector. The nose is none either."),
  RESPIRATOR(
      Topic.AIR,
      "Organic-vapor cartridges are changed by schedule and not by smell; sanding needs a particle"
          + " filter. A respirator makes up for no fan."),
  GLOVES(Topic.BODY, "Change gloves often."),
  HEARING(Topic.BODY, "Styrene and noise together harm hearing more than either."),
  ALONE(Topic.BODY, "Somebody should know when you mean to be out."),
  LIGHT_HEAD(Topic.BODY, "Headache or a light head: get out first, air afterward.");

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
