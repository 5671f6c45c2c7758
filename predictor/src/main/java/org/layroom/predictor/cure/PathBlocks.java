package org.layroom.predictor.cure;

/**
 * A temperature path in stretches that stay within half a kelvin, each with its duration, mean and
 * second and third central moments over time. The integral of a smooth rate over a stretch is
 * {@code h (r + r'' V / 2 + r''' S / 6)} at the mean; what is left out is of fourth order, below
 * 1e-8 of it for the rates used here. So minute by minute readings cost one evaluation of the law a
 * stretch.
 */
final class PathBlocks {
  private static final double WIDEST_K = 0.5;

  private final int[] lastPoint;
  private final double[] lowestC;
  private final double[] highestC;
  private final double[] meanC;
  private final double[] second;
  private final double[] third;
  private int count;

  PathBlocks(double[] minutes, double[] temperatureC) {
    int most = Math.max(0, minutes.length - 1);
    lastPoint = new int[most];
    lowestC = new double[most];
    highestC = new double[most];
    meanC = new double[most];
    second = new double[most];
    third = new double[most];
    int first = 0;
    while (first < most) {
      first = add(minutes, temperatureC, first);
    }
  }

  /** Adds the stretch that begins at a point, one piece at least; gives the point where it ends. */
  private int add(double[] minutes, double[] temperatureC, int first) {
    double base = temperatureC[first];
    double low = base;
    double high = base;
    double m1 = 0;
    double m2 = 0;
    double m3 = 0;
    int last = first;
    while (last < temperatureC.length - 1) {
      double nextLow = Math.min(low, temperatureC[last + 1]);
      double nextHigh = Math.max(high, temperatureC[last + 1]);
      if (last > first && nextHigh - nextLow > WIDEST_K) {
        break;
      }
      low = nextLow;
      high = nextHigh;
      double h = minutes[last + 1] - minutes[last];
      double x = temperatureC[last] - base;
      double y = temperatureC[last + 1] - base;
      m1 += h * (x + y) / 2;
      m2 += h * (x * x + x * y + y * y) / 3;
      m3 += h * (x + y) * (x * x + y * y) / 4;
      last++;
    }
    double h = minutes[last] - minutes[first];
    double mean = h > 0 ? m1 / h : 0;
    double square = h > 0 ? m2 / h : 0;
    double cube = h > 0 ? m3 / h : 0;
    lastPoint[count] = last;
    lowestC[count] = low;
    highestC[count] = high;
    meanC[count] = base + mean;
    second[count] = square - mean * mean;
    third[count] = cube - 3 * mean * square + 2 * mean * mean * mean;
    count++;
    return last;
  }

  int count() {
    return count;
  }

  /** Index of the point where a block ends. */
  int lastPoint(int block) {
    return lastPoint[block];
  }

  /**
   * Whether a block lies strictly between two temperatures and is narrow enough for its moments.
   */
  boolean within(int block, double aboveC, double belowC, double offsetK) {
    return lowestC[block] + offsetK > aboveC
        && highestC[block] + offsetK < belowC
        && highestC[block] - lowestC[block] <= WIDEST_K;
  }

  /** The mean of a rate over a block. */
  double meanRate(int block, RateLaw law, double offsetK) {
    double atC = meanC[block] + offsetK;
    double rate = law.rate(atC);
    return rate
        + law.secondSlope(atC, rate) * second[block] / 2
        + law.thirdSlope(atC, rate) * third[block] / 6;
  }
}
