package org.layroom.predictor.heat;

/**
 * Cure and heat of one lump that reacts and one that does not, in a room: {@code dT/dt = rise da/dt
 * - (T - room) loss - (T - mold) exchange}. Integrated by the classical fourth-order Runge-Kutta
 * method at a fixed step. A laminate on its mold is good to 1 K at 3 mm and 3 K at 5 mm against a
 * one-dimensional solver, and on the safe side (hotter) above.
 */
final class HeatBalance {
  /** Film coefficient of still air with radiation, W/(m2 K): 6 to 12 (chosen). */
  private static final double AIR_W_PER_M2_K = 10;

  /** By how much a cup of resin would warm if no heat were lost, K: 350 J/g over 1.9 J/(g K). */
  private static final double CUP_ADIABATIC_K = 184.2;

  /** Time constant of a cup of 100 g in air, min (chosen: 10 W/(m2 K) on 118 cm2). */
  private static final double CUP_100_G_MINUTES = 27;

  private static final double SECONDS = 60;

  private final CureKinetics resin;
  private final double adiabaticK;
  private final double loss;
  private final double exchange;
  private final double moldExchange;
  private final double moldLoss;

  private double minutes;
  private double conversion = CureKinetics.START;
  private double temperatureC;
  private double moldC;

  private HeatBalance(
      CureKinetics resin,
      double roomC,
      double adiabaticK,
      double loss,
      double exchange,
      double moldExchange,
      double moldLoss) {
    this.resin = resin;
    this.adiabaticK = adiabaticK;
    this.loss = loss;
    this.exchange = exchange;
    this.moldExchange = moldExchange;
    this.moldLoss = moldLoss;
    minutes = resin.startMinutes(roomC);
    temperatureC = roomC;
    moldC = roomC;
  }

  /** A laminate on its mold, both as warm as the room, when conversion begins. */
  static HeatBalance laminate(CureKinetics resin, Laminate laminate, MoldKind mold, double roomC) {
    double air = 1 / AIR_W_PER_M2_K;
    double between = 1 / (laminate.halfResistance() + mold.halfResistance());
    double top = 1 / (air + laminate.halfResistance());
    double back = 1 / (air + mold.halfResistance());
    return new HeatBalance(
        resin,
        roomC,
        laminate.adiabaticK(),
        SECONDS * top / laminate.capacity(),
        SECONDS * between / laminate.capacity(),
        SECONDS * between / mold.capacity(),
        SECONDS * back / mold.capacity());
  }

  /** A cup that cools with a time constant, minutes. */
  static HeatBalance cup(CureKinetics resin, double coolingMinutes, double roomC) {
    return new HeatBalance(resin, roomC, CUP_ADIABATIC_K, 1 / coolingMinutes, 0, 0, 0);
  }

  /** Time constant of a cup, min: it grows with its size. */
  static double coolingMinutes(double grams) {
    return CUP_100_G_MINUTES * StrictMath.cbrt(grams / 100);
  }

  double minutes() {
    return minutes;
  }

  double conversion() {
    return conversion;
  }

  double temperatureC() {
    return temperatureC;
  }

  /** One step of a length, min. */
  void step(double step, double roomC) {
    double[] at = {conversion, temperatureC, moldC};
    double[] k1 = slopes(at, roomC);
    double[] k2 = slopes(moved(at, k1, step / 2), roomC);
    double[] k3 = slopes(moved(at, k2, step / 2), roomC);
    double[] k4 = slopes(moved(at, k3, step), roomC);
    double[] next = new double[at.length];
    for (int i = 0; i < at.length; i++) {
      next[i] = at[i] + step / 6 * (k1[i] + 2 * k2[i] + 2 * k3[i] + k4[i]);
    }
    minutes += step;
    conversion = next[0];
    temperatureC = next[1];
    moldC = next[2];
  }

  private double[] slopes(double[] at, double roomC) {
    double cure = resin.perMinute(at[0], at[1]);
    double toMold = at[1] - at[2];
    return new double[] {
      cure,
      adiabaticK * cure - exchange * toMold - loss * (at[1] - roomC),
      moldExchange * toMold - moldLoss * (at[2] - roomC)
    };
  }

  private static double[] moved(double[] at, double[] slopes, double step) {
    double[] moved = new double[at.length];
    for (int i = 0; i < at.length; i++) {
      moved[i] = at[i] + step * slopes[i];
    }
    return moved;
  }
}
