package org.layroom.dashboard.job;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** One thing that a person did or saw, as told by a tap. */
public sealed interface JobEvent {
  /** The name in JSON. */
  String type();

  /** Whether it changes where the job stands, so that two tablets must not both do it. */
  default boolean moves() {
    return true;
  }

  /**
   * A part was begun.
   *
   * @param part what is made
   * @param molds at least one, each used by one open job at a time
   * @param steps the chain, in order
   * @param fanOn whether the person said that the fan runs
   * @param respiratorOn whether the person said that the respirator is on
   */
  record Started(
      String part,
      List<String> molds,
      List<PlannedJobStep> steps,
      boolean fanOn,
      boolean respiratorOn)
      implements JobEvent {
    public Started {
      molds = List.copyOf(molds);
      steps = List.copyOf(steps);
    }

    @Override
    public String type() {
      return "started";
    }
  }

  /** A step was put into the chain after the start. */
  record StepAdded(PlannedJobStep step, Optional<String> before) implements JobEvent {
    @Override
    public String type() {
      return "step-added";
    }
  }

  /** Wax, mist or PVA was put on: its wait runs. */
  record Applied(String step) implements JobEvent {
    @Override
    public String type() {
      return "applied";
    }
  }

  /**
   * A cup was mixed.
   *
   * @param step which step it is for
   * @param cup what is in it
   * @param on what its person said of fan and respirator, where it was asked
   */
  record Mixed(String step, Cup cup, Optional<On> on) implements JobEvent {
    /** A cup at which nothing was asked. */
    public Mixed(String step, Cup cup) {
      this(step, cup, Optional.empty());
    }

    @Override
    public String type() {
      return "mixed";
    }
  }

  /**
   * What is on while a cup is worked.
   *
   * @param mask the id of the mask that was called for; empty where nothing was predicted
   */
  record On(boolean fan, boolean respirator, Optional<String> mask) {}

  /**
   * What is in a cup.
   *
   * @param material id of the material
   * @param materialGrams weight of resin or gel coat, above 0 up to 50 kg
   * @param doseByWeightPct as mixed, 0.1 to 10 % by weight
   * @param resinC temperature of what is in the cup, degC
   * @param moldC temperature of the mold, degC
   * @param typed whether a person typed the temperatures because no fresh reading was there
   * @param goneOn what the person was warned of and went on after; empty when nothing
   * @param thicknessMm of what is laid in this pass, 0.1 to 100 mm; empty where not said
   * @param moldKind id of what the mold is made of; empty where not said
   */
  record Cup(
      String material,
      double materialGrams,
      double doseByWeightPct,
      OptionalDouble catalystMl,
      double resinC,
      double moldC,
      boolean typed,
      List<String> goneOn,
      OptionalDouble thicknessMm,
      Optional<String> moldKind) {
    /** A cup of which nobody said how thick it is laid. */
    public Cup(
        String material,
        double materialGrams,
        double doseByWeightPct,
        OptionalDouble catalystMl,
        double resinC,
        double moldC,
        boolean typed,
        List<String> goneOn) {
      this(
          material,
          materialGrams,
          doseByWeightPct,
          catalystMl,
          resinC,
          moldC,
          typed,
          goneOn,
          OptionalDouble.empty(),
          Optional.empty());
    }

    public Cup {
      goneOn = List.copyOf(goneOn);
    }
  }

  /**
   * A cup gelled: this is what calibrates the can.
   *
   * @param offMinutes how far the time may be off because it was told afterwards, as a standard
   *     deviation, 0 to 240 min
   * @param timeUnknown whether nobody knows when
   */
  record Gelled(String mix, double offMinutes, boolean timeUnknown) implements JobEvent {
    /** Told as it was seen. */
    public Gelled(String mix) {
      this(mix, 0, false);
    }

    @Override
    public String type() {
      return "gelled";
    }

    @Override
    public boolean moves() {
      return false;
    }
  }

  /** The wet film was gauged, mm. */
  record FilmRead(String step, double millimeters) implements JobEvent {
    @Override
    public String type() {
      return "film-read";
    }

    @Override
    public boolean moves() {
      return false;
    }
  }

  /**
   * A step is done.
   *
   * @param cameOut how the part came out of the mold, where that was said
   */
  record Done(String step, Optional<CameOut> cameOut) implements JobEvent {
    /** Nothing was said of it. */
    public Done(String step) {
      this(step, Optional.empty());
    }

    @Override
    public String type() {
      return "done";
    }
  }

  /** A step is left out. */
  record Skipped(String step) implements JobEvent {
    @Override
    public String type() {
      return "skipped";
    }
  }

  /**
   * The part was checked by hand before demolding.
   *
   * @param fingernail the nail leaves no mark on the flange
   * @param tap it sounds hard
   * @param noGive it does not give under the thumb
   * @param hardness readings of a hardness tester, 0 to 100, where one is owned
   */
  record Checked(
      String step, boolean fingernail, boolean tap, boolean noGive, List<Double> hardness)
      implements JobEvent {
    public Checked {
      hardness = List.copyOf(hardness);
    }

    @Override
    public String type() {
      return "checked";
    }

    @Override
    public boolean moves() {
      return false;
    }

    /** Whether the hand found it hard. */
    public boolean hard() {
      return fingernail && tap && noGive;
    }
  }

  /** Something worth writing down. */
  record Noted(String words) implements JobEvent {
    @Override
    public String type() {
      return "noted";
    }

    @Override
    public boolean moves() {
      return false;
    }
  }

  /** The part was taken out of the room: it gives off vapor for days, and now elsewhere. */
  record Removed() implements JobEvent {
    @Override
    public String type() {
      return "removed";
    }

    @Override
    public boolean moves() {
      return false;
    }
  }

  /** Something is wrong with the part. */
  record Seen(Symptom symptom) implements JobEvent {
    @Override
    public String type() {
      return "seen";
    }

    @Override
    public boolean moves() {
      return false;
    }
  }

  /** The part was given up. */
  record GivenUp(String why) implements JobEvent {
    @Override
    public String type() {
      return "given-up";
    }
  }

  /** An earlier event was a mistaken tap. */
  record Undone(String event) implements JobEvent {
    @Override
    public String type() {
      return "undone";
    }
  }
}
