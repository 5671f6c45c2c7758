package org.layroom.predictor.cure;

/**
 * Arrhenius rate relative to a reference temperature: {@code r(T) = exp[-(Ea/R)(1/T - 1/Tr)]} with
 * T in kelvin, R = 8.314462618 J/(mol K) and 0 degC = 273.15 K. With StrictMath, so that the same
 * inputs give the same digits on every machine.
 */
public final class ArrheniusRate implements RateLaw {
  /** Molar gas constant, J/(mol K). */
  public static final double R = 8.314462618;

  /** 0 degC in kelvin. */
  public static final double ZERO_C_IN_K = 273.15;

  private final double Ea;
  private final double referenceC;

  /** Ea / R, K. */
  private final double kelvins;

  private final double perReferenceK;

  /**
   * The law of one activation energy.
   *
   * @param Ea activation energy, kJ/mol, above 0 and at most 400
   * @param referenceC temperature at which the rate is 1, degC, -60 to 200
   */
  public ArrheniusRate(double Ea, double referenceC) {
    if (!(Ea > 0 && Ea <= 400)) {
      throw new IllegalArgumentException(
          "activation energy " + Ea + " kJ/mol must be above 0 and at most 400 kJ/mol");
    }
    if (!(referenceC >= -60 && referenceC <= 200)) {
      throw new IllegalArgumentException(
          "reference temperature " + referenceC + " °C must be between -60 and 200 degC");
    }
    this.Ea = Ea;
    this.referenceC = referenceC;
    kelvins = 1000 * Ea / R;
    perReferenceK = 1 / (referenceC + ZERO_C_IN_K);
  }

  @Override
  public double rate(double temperatureC) {
    return StrictMath.exp(kelvins * (perReferenceK - 1 / (temperatureC + ZERO_C_IN_K)));
  }

  /** Logarithm of how much longer everything takes than at the reference temperature. */
  public double lnTime(double temperatureC) {
    return Ea * perEa(temperatureC, referenceC);
  }

  /** {@code (1/T - 1/Tr) / R}, per kJ/mol. */
  public static double perEa(double temperatureC, double referenceC) {
    return 1000 / R * (1 / (temperatureC + ZERO_C_IN_K) - 1 / (referenceC + ZERO_C_IN_K));
  }

  @Override
  public double slope(double temperatureC, double rate) {
    double perK = 1 / (temperatureC + ZERO_C_IN_K);
    return rate * kelvins * perK * perK;
  }

  @Override
  public double secondSlope(double temperatureC, double rate) {
    double perK = 1 / (temperatureC + ZERO_C_IN_K);
    double u = kelvins * perK * perK;
    return rate * u * (u - 2 * perK);
  }

  @Override
  public double thirdSlope(double temperatureC, double rate) {
    double perK = 1 / (temperatureC + ZERO_C_IN_K);
    double u = kelvins * perK * perK;
    return rate * u * (u * u - 6 * u * perK + 6 * perK * perK);
  }

  /**
   * The datum of the degree-hour law that has the same slope at the reference temperature, degC:
   * {@code T0 = Tr - R Tr^2 / Ea} (Lee and Hover, ACI Materials Journal 113 (2016) 197).
   */
  public double tangentDatumC() {
    double kelvin = referenceC + ZERO_C_IN_K;
    return referenceC - R * kelvin * kelvin / (1000 * Ea);
  }

  @Override
  public int kinks() {
    return 0;
  }

  @Override
  public double kinkC(int index) {
    throw new IndexOutOfBoundsException(index);
  }
}
