package org.layroom.predictor.cure;

import java.util.Arrays;

/**
 * The integral of a rate law along a temperature path, and the times at which it reaches targets.
 * Stretches that stay within half a kelvin go by their moments ({@link PathBlocks}). Elsewhere each
 * straight piece is cut at the law's kinks and into steps of at most half a kelvin; a step uses the
 * trapezoid with the end correction {@code h^2/12 (f'(a) - f'(b))}, of fourth order and exact for
 * cubics: relative error below 1e-7 at one evaluation of the law a step. The times are found inside
 * a step by Newton's method on the same formula.
 */
public final class RateIntegral {
  /** Times later than this many minutes (60 days) count as never. */
  public static final double LATEST_MINUTES = 60 * 24 * 60;

  private static final double LONGEST_STEP_K = 0.5;
  private static final double NUDGE_K = 1e-9;
  private static final double NEWTON_MINUTES = 1e-11;
  private static final int MOST_NEWTON_STEPS = 60;

  private final TemperaturePath path;
  private final double offsetK;
  private final RateLaw law;
  private final double[] kinksC;
  private double[] targets = {};
  private double[] times = {};
  private int next;
  private double sum;
  private double knownC = Double.NaN;
  private double knownRate;
  private double knownSlope;
  private double smoothAboveC = Double.NaN;
  private double smoothBelowC = Double.NaN;

  private RateIntegral(TemperaturePath path, double offsetK, RateLaw law) {
    this.path = path;
    this.offsetK = offsetK;
    this.law = law;
    kinksC = new double[law.kinks()];
    for (int i = 0; i < kinksC.length; i++) {
      kinksC[i] = law.kinkC(i);
    }
    Arrays.sort(kinksC);
  }

  /**
   * The integral of the rate from mixing to a time, in minutes at the law's reference temperature.
   *
   * @param untilMinutes zero or more
   */
  public static double until(TemperaturePath path, RateLaw law, double untilMinutes) {
    if (!(untilMinutes >= 0 && untilMinutes < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("time " + untilMinutes + " min must be zero or more");
    }
    RateIntegral integral = new RateIntegral(path, 0, law);
    integral.walk(untilMinutes);
    return integral.sum;
  }

  /**
   * When the integral of the rate reaches a target, minutes after mixing; positive infinity for
   * never within 60 days.
   *
   * @param target in minutes at the law's reference temperature, zero or more
   */
  public static double reaches(TemperaturePath path, RateLaw law, double target) {
    double[] times = new double[1];
    reaches(path, 0, law, new double[] {target}, times);
    return times[0];
  }

  /**
   * When the integral reaches each of several targets.
   *
   * @param offsetK added to every temperature of the path, K
   * @param risingTargets in minutes at the law's reference temperature, in rising order
   * @param times filled in; positive infinity for never within 60 days
   */
  static void reaches(
      TemperaturePath path, double offsetK, RateLaw law, double[] risingTargets, double[] times) {
    RateIntegral integral = new RateIntegral(path, offsetK, law);
    integral.targets = risingTargets;
    integral.times = times;
    integral.walk(Double.POSITIVE_INFINITY);
  }

  private boolean done() {
    return targets.length > 0 && next == targets.length;
  }

  private void walk(double untilMinutes) {
    while (next < targets.length && targets[next] <= 0) {
      times[next++] = 0;
    }
    PathBlocks blocks = path.blocks();
    int first = 0;
    for (int block = 0; block < blocks.count() && !done(); block++) {
      int last = blocks.lastPoint(block);
      if (path.minutesAt(first) >= untilMinutes) {
        return;
      }
      if (path.minutesAt(last) > untilMinutes || !wholeBlock(block, first, last)) {
        pieces(first, last, untilMinutes);
      }
      first = last;
    }
    int end = path.size() - 1;
    hold(path.minutesAt(end), path.temperatureAt(end) + offsetK, untilMinutes);
  }

  /** Adds a block by its moments, unless a kink or a target lies inside. */
  private boolean wholeBlock(int block, int first, int last) {
    PathBlocks blocks = path.blocks();
    if (!blocks.within(block, smoothAboveC, smoothBelowC, offsetK)) {
      findSmooth(path.temperatureAt(first) + offsetK);
      if (!blocks.within(block, smoothAboveC, smoothBelowC, offsetK)) {
        return false;
      }
    }
    double minutes = path.minutesAt(last) - path.minutesAt(first);
    double area = minutes * blocks.meanRate(block, law, offsetK);
    if (next < targets.length && sum + area >= targets[next]) {
      return false;
    }
    sum += area;
    return true;
  }

  /** Adds the straight pieces between two points one by one. */
  private void pieces(int first, int last, double untilMinutes) {
    double from = path.minutesAt(first);
    double fromC = path.temperatureAt(first) + offsetK;
    for (int k = first; k < last && !done() && from < untilMinutes; k++) {
      double to = path.minutesAt(k + 1);
      double toC = path.temperatureAt(k + 1) + offsetK;
      if (to > untilMinutes) {
        toC = fromC + (toC - fromC) * (untilMinutes - from) / (to - from);
        to = untilMinutes;
      }
      if (to > from) {
        straight(from, fromC, to, toC);
      }
      from = to;
      fromC = toC;
    }
  }

  /** The last temperature, held. */
  private void hold(double from, double temperatureC, double untilMinutes) {
    if (done()) {
      return;
    }
    double rate = law.rate(temperatureC);
    while (next < targets.length) {
      double time = from + (targets[next] - sum) / rate;
      times[next++] = rate > 0 && time <= LATEST_MINUTES ? time : Double.POSITIVE_INFINITY;
    }
    if (untilMinutes > from && untilMinutes < Double.POSITIVE_INFINITY) {
      sum += rate * (untilMinutes - from);
    }
  }

  /** One straight line, cut where the law has kinks. */
  private void straight(double from, double fromC, double to, double toC) {
    boolean rising = toC > fromC;
    double at = from;
    double atC = fromC;
    for (int i = 0; i < kinksC.length; i++) {
      double kinkC = kinksC[rising ? i : kinksC.length - 1 - i];
      boolean inside = rising ? kinkC > atC && kinkC < toC : kinkC < atC && kinkC > toC;
      if (inside) {
        double cut = from + (to - from) * (kinkC - fromC) / (toC - fromC);
        double inwards = rising ? -NUDGE_K : NUDGE_K;
        smooth(at, atC, cut, kinkC + inwards);
        at = cut;
        atC = kinkC - inwards;
      }
    }
    smooth(at, atC, to, inside(toC, atC));
  }

  /** The kinks on both sides of a temperature: between them no cut is needed. */
  private void findSmooth(double temperatureC) {
    smoothAboveC = Double.NEGATIVE_INFINITY;
    smoothBelowC = Double.POSITIVE_INFINITY;
    for (double kinkC : kinksC) {
      if (kinkC <= temperatureC) {
        smoothAboveC = kinkC;
      } else {
        smoothBelowC = Math.min(smoothBelowC, kinkC);
      }
    }
  }

  /** The end of a piece that meets a kink belongs to the side that the piece lies on. */
  private double inside(double endC, double otherEndC) {
    for (double kinkC : kinksC) {
      if (endC == kinkC && otherEndC != endC) {
        return otherEndC > endC ? endC + NUDGE_K : endC - NUDGE_K;
      }
    }
    return endC;
  }

  private void smooth(double from, double fromC, double to, double toC) {
    if (!(to > from)) {
      return;
    }
    double rise = toC - fromC;
    int steps = Math.max(1, (int) Math.ceil(Math.abs(rise) / LONGEST_STEP_K));
    double step = (to - from) / steps;
    double perMinute = rise / (to - from);
    double atC = inside(fromC, toC);
    for (int i = 1; i <= steps && !done(); i++) {
      double endC = i == steps ? toC : fromC + rise * i / steps;
      step(from + (i - 1) * step, atC, step, endC, perMinute);
      atC = endC;
    }
  }

  private void step(double from, double fromC, double minutes, double toC, double perMinute) {
    evaluate(fromC);
    double fromRate = knownRate;
    double fromSlope = perMinute * knownSlope;
    evaluate(toC);
    double area = area(minutes, fromRate, fromSlope, knownRate, perMinute * knownSlope);
    while (next < targets.length && sum + area >= targets[next]) {
      double need = Math.max(0, targets[next] - sum);
      times[next++] = from + locate(need, minutes, area, fromC, fromRate, fromSlope, perMinute);
    }
    sum += area;
  }

  private static double area(
      double minutes, double fromRate, double fromSlope, double toRate, double toSlope) {
    return minutes / 2 * (fromRate + toRate) + minutes * minutes / 12 * (fromSlope - toSlope);
  }

  private double locate(
      double need,
      double minutes,
      double area,
      double fromC,
      double fromRate,
      double fromSlope,
      double perMinute) {
    double low = 0;
    double high = minutes;
    double at = minutes * need / area;
    for (int i = 0; i < MOST_NEWTON_STEPS; i++) {
      double atC = fromC + perMinute * at;
      double rate = law.rate(atC);
      double slope = perMinute == 0 ? 0 : perMinute * law.slope(atC, rate);
      double missing = need - area(at, fromRate, fromSlope, rate, slope);
      if (missing > 0) {
        low = at;
      } else {
        high = at;
      }
      double newton = at + missing / rate;
      double better = newton >= low && newton <= high ? newton : (low + high) / 2;
      if (Math.abs(better - at) <= NEWTON_MINUTES * (1 + at)) {
        return better;
      }
      at = better;
    }
    return at;
  }

  private void evaluate(double temperatureC) {
    if (temperatureC != knownC) {
      knownRate = law.rate(temperatureC);
      knownSlope = law.slope(temperatureC, knownRate);
      knownC = temperatureC;
    }
  }
}
