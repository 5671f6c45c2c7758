package org.layroom.predictor.cure;

/**
 * A law whose cold hours count only in part. Below 15 degC hardening goes on, but the network
 * freezes short of full strength until it is warmed. The ramp from nothing at 13 to full at 15 degC
 * is this project's choice: without it a room that swings around 15 degC would jump by half its
 * time for half a degree.
 *
 * @param law the law for warm hours
 * @param doubt 0 counts cold hours in full, 0.5 along the ramp, 1 not at all
 */
public record ColdHourRate(RateLaw law, double doubt) implements RateLaw {
  /** Below this cold hours count for nothing on the ramp, degC. */
  public static final double NOTHING_C = 13;

  /** From this on hours count in full, degC. */
  public static final double FULL_C = 15;

  public ColdHourRate {
    if (!(doubt >= 0 && doubt <= 1)) {
      throw new IllegalArgumentException("doubt " + doubt + " must be between 0 and 1");
    }
  }

  /** The likely reading: the ramp from nothing at 13 to full at 15 degC. */
  public static ColdHourRate ramp(RateLaw law) {
    return new ColdHourRate(law, 0.5);
  }

  @Override
  public double rate(double temperatureC) {
    double credit = credit(temperatureC);
    return credit == 0 ? 0 : credit * law.rate(temperatureC);
  }

  @Override
  public double slope(double temperatureC, double rate) {
    double bare = bare(temperatureC, rate);
    return credit(temperatureC) * law.slope(temperatureC, bare) + creditSlope(temperatureC) * bare;
  }

  @Override
  public double secondSlope(double temperatureC, double rate) {
    double bare = bare(temperatureC, rate);
    return credit(temperatureC) * law.secondSlope(temperatureC, bare)
        + 2 * creditSlope(temperatureC) * law.slope(temperatureC, bare);
  }

  @Override
  public double thirdSlope(double temperatureC, double rate) {
    double bare = bare(temperatureC, rate);
    return credit(temperatureC) * law.thirdSlope(temperatureC, bare)
        + 3 * creditSlope(temperatureC) * law.secondSlope(temperatureC, bare);
  }

  /** The rate of the law itself. */
  private double bare(double temperatureC, double rate) {
    double credit = credit(temperatureC);
    return credit == 1 ? rate : credit > 0 ? rate / credit : law.rate(temperatureC);
  }

  /** The part of an hour at this temperature that counts, 0 to 1. */
  double credit(double temperatureC) {
    if (temperatureC >= FULL_C) {
      return 1;
    }
    double ramp = Math.max(0, (temperatureC - NOTHING_C) / (FULL_C - NOTHING_C));
    return doubt <= 0.5 ? 1 - 2 * doubt * (1 - ramp) : 2 * (1 - doubt) * ramp;
  }

  private double creditSlope(double temperatureC) {
    if (temperatureC >= FULL_C || temperatureC <= NOTHING_C) {
      return 0;
    }
    return 2 * Math.min(doubt, 1 - doubt) / (FULL_C - NOTHING_C);
  }

  @Override
  public int kinks() {
    return law.kinks() + 2;
  }

  @Override
  public double kinkC(int index) {
    return switch (index) {
      case 0 -> NOTHING_C;
      case 1 -> FULL_C;
      default -> law.kinkC(index - 2);
    };
  }
}
