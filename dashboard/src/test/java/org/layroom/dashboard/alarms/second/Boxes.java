package org.layroom.dashboard.alarms.second;

/**
 * A room as two well-mixed boxes, one near the work and the rest, for one vapor. The near-field /
 * far-field model of industrial hygiene (MEMORY: Nicas, AIHA J. 57, 1996): the source is in the
 * near box, air goes between the boxes at a flow beta, and the room is aired from the rest.
 */
final class Boxes {
  /** CHOICE: half a ball of 1.25 m around the work, m3. */
  static final double NEAR_M3 = 4;

  private final double restM3;
  private final double betaM3PerS;
  private double near;
  private double rest;

  /**
   * Air with the same content everywhere.
   *
   * @param volumeM3 of the room
   * @param betaM3PerMin between the boxes; 5 usual, 3-30 (MEMORY)
   * @param startMgPerM3 at first
   */
  Boxes(double volumeM3, double betaM3PerMin, double startMgPerM3) {
    restM3 = volumeM3 - NEAR_M3;
    betaM3PerS = betaM3PerMin / 60;
    near = startMgPerM3;
    rest = startMgPerM3;
  }

  /**
   * Goes on, in steps of a second.
   *
   * @param mgPerS what the source gives off
   * @param changesPerHour of the whole room's air
   */
  void go(int seconds, double mgPerS, double changesPerHour) {
    double aired = changesPerHour / 3600 * (restM3 + NEAR_M3);
    for (int second = 0; second < seconds; second++) {
      double across = betaM3PerS * (near - rest);
      near += (mgPerS - across) / NEAR_M3;
      rest += (across - aired * rest) / restM3;
    }
  }

  /** Of the near box's excess over the rest, a share is felt at a place: mg/m3. */
  double at(double nearShare) {
    return rest + nearShare * (near - rest);
  }

  /**
   * Of a gas in air at one atmosphere: ppm of a mg/m3. PUBLISHED: NIOSH, mg/m3 = ppm M P / (R T),
   * 4.26 for styrene at 25 degC.
   *
   * @param molarMass g/mol: styrene 104.15 (PUBLISHED, NIOSH), acetone 58.08, ethanol 46.07
   */
  static double ppm(double mgPerM3, double molarMass, double celsius) {
    return mgPerM3 * 8.314462618 * (celsius + 273.15) * 1000 / (molarMass * 101325);
  }
}
