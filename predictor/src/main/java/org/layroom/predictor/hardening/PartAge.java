package org.layroom.predictor.hardening;

/**
 * The age of a part as hardening counts it.
 *
 * @param hours equivalent hours at 20 degC, above zero and at most 10,000
 * @param sdLn standard deviation of their logarithm, from not knowing how strongly this can's
 *     hardening follows temperature; zero or more
 */
public record PartAge(double hours, double sdLn) {
  public PartAge {
    if (!(hours > 0 && hours <= 10_000)) {
      throw new IllegalArgumentException(
          "age " + hours + " h must be above 0 and at most 10000 h at 20 °C");
    }
    if (!(sdLn >= 0 && sdLn < 10)) {
      throw new IllegalArgumentException("spread of an age " + sdLn + " must be zero or more");
    }
  }
}
