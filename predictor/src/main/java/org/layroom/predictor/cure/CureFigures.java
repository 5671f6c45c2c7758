package org.layroom.predictor.cure;

/**
 * The figures that the clocks of a cup run on: multiples of the gel time in the cup, and hours at
 * 20 degC.
 */
public final class CureFigures {
  /** Likely hours at 20 degC until a part may be loaded: a trade page's "full 7 days". */
  public static final double LOAD_HOURS_AT_20C = 168;

  /** Reference temperature of equivalent hours, degC. */
  public static final double HOURS_REFERENCE_C = 20;

  /** Part of the gel time in which mat can be wetted out: likely value of 0.6 to 0.8. */
  public static final double STOP = 0.7;

  static final double LAMINATE = 4.0;

  /** Published charts get steeper in the cold: the latest edge follows them, kJ/mol. */
  static final double COLD_EDGE_EA = 75;

  private CureFigures() {}
}
