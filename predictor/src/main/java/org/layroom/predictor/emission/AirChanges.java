package org.layroom.predictor.emission;

import org.layroom.predictor.limits.RangeCheck;

/**
 * How often the room's air is changed, and how that is known. The guesses for a shut room, a door
 * ajar, an open one and a fan are this project's own choice.
 */
public sealed interface AirChanges {
  /** Air changes per hour, zero or more. */
  double perHour();

  /** How the figure is known, for the screen. */
  String words();

  /** Measured in this room from the decay after a job: its mixing is already in the figure. */
  static AirChanges measured(double perHour) {
    return new Measured(perHour);
  }

  /** Known to the user. */
  static AirChanges given(double perHour) {
    return new Given(perHour);
  }

  /**
   * From the flow printed on the fan. What of it passes the vapor by is the mixing's business: it
   * is discounted once, by K.
   *
   * @param ratedM3PerH above 0, at most 1 000 000 m3/h
   * @param volumeM3 the room, above 0, at most 100 000 m3
   */
  static AirChanges fan(double ratedM3PerH, double volumeM3) {
    return new Fan(ratedM3PerH, volumeM3);
  }

  /** Most changes that are believed, per hour. */
  double MOST_PER_HOUR = 1000;

  /**
   * A figure from this room's own decay.
   *
   * @param perHour 0 to 1000 per hour
   */
  record Measured(double perHour) implements AirChanges {
    public Measured {
      RangeCheck.within("air changes", perHour, 0, MOST_PER_HOUR, "per hour");
    }

    @Override
    public String words() {
      return "measured in this room";
    }
  }

  /**
   * A figure as typed in.
   *
   * @param perHour 0 to 1000 per hour
   */
  record Given(double perHour) implements AirChanges {
    public Given {
      RangeCheck.within("air changes", perHour, 0, MOST_PER_HOUR, "per hour");
    }

    @Override
    public String words() {
      return "as entered";
    }
  }

  /** From a fan's rating. */
  record Fan(double ratedM3PerH, double volumeM3) implements AirChanges {
    public Fan {
      RangeCheck.positive("fan", ratedM3PerH, 1e6, "m3/h");
      RangeCheck.positive("room volume", volumeM3, VentilatedRoom.LARGEST_M3, "m3");
    }

    @Override
    public double perHour() {
      return ratedM3PerH / volumeM3;
    }

    @Override
    public String words() {
      return "assumed: the flow printed on the fan";
    }
  }

  /** A guess where nothing has been measured (this project's own choice). */
  enum Guess implements AirChanges {
    SHUT(0.5, "assumed: doors and windows shut"),
    AJAR(2, "assumed: a door or window ajar"),
    OPEN(10, "assumed: door open"),
    FAN(6, "assumed: a fan of unknown flow running");

    private final double perHour;
    private final String words;

    Guess(double perHour, String words) {
      this.perHour = perHour;
      this.words = words;
    }

    @Override
    public double perHour() {
      return perHour;
    }

    @Override
    public String words() {
      return words;
    }
  }
}
