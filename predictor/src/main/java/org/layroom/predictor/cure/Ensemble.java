package org.layroom.predictor.cure;

import java.util.Arrays;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.random.SobolSequenceGenerator;
import org.hipparchus.special.Beta;
import org.hipparchus.special.Erf;

/**
 * 512 equally likely cases and how quantiles are read off them. The cases are a Sobol net of 256
 * points and its mirror image, the same in every run. A quantile of a time is the sample's,
 * corrected by a control variate: the logarithm's linear part in the normal inputs, whose quantile
 * is known exactly. Where the logarithm is linear (constant temperature) the result is exact.
 */
final class Ensemble {
  static final int MEMBERS = 512;

  /** Inputs that are normal; the gel time's four numbers come first. */
  static final int RESIN_SENSOR = 4;

  static final int MOLD_SENSOR = 5;
  static final int DOSE = 6;
  static final int STOP = 7;
  static final int EXOTHERM = 8;
  static final int LAMINATE = 9;
  static final int DEMOLD = 10;
  static final int HARDENING_EA = 11;
  static final int LOAD = 12;
  private static final int NORMALS = 13;

  /** Inputs that are spread evenly over 0 to 1. */
  static final int LAW = 0;

  static final int COLD_HOURS = 1;
  static final int FORECAST = 2;
  private static final int UNIFORMS = 3;

  private static final double Z90 = 1.2815515655446004;
  private static final double LN_NEVER = StrictMath.log(RateIntegral.LATEST_MINUTES);
  private static final double[] P10 = harrellDavis(0.1);
  private static final double[] P50 = harrellDavis(0.5);
  private static final double[] P90 = harrellDavis(0.9);
  private static final double[][] NORMAL = new double[MEMBERS][NORMALS];
  private static final double[][] UNIFORM = new double[MEMBERS][UNIFORMS];
  private static final double[][] GRAM_INVERSE;

  static {
    int half = MEMBERS / 2;
    SobolSequenceGenerator sobol = new SobolSequenceGenerator(NORMALS + UNIFORMS);
    sobol.skipTo(half);
    for (int i = 0; i < half; i++) {
      double[] point = sobol.nextVector();
      for (int j = 0; j < point.length; j++) {
        double share = point[j] + 0.5 / MEMBERS;
        if (j < NORMALS) {
          double z = StrictMath.sqrt(2) * Erf.erfInv(2 * share - 1);
          NORMAL[i][j] = z;
          NORMAL[i + half][j] = -z;
        } else {
          UNIFORM[i][j - NORMALS] = share;
          UNIFORM[i + half][j - NORMALS] = 1 - share;
        }
      }
    }
    GRAM_INVERSE = MatrixUtils.inverse(MatrixUtils.createRealMatrix(gram())).getData();
  }

  private Ensemble() {}

  static double normal(int member, int input) {
    return NORMAL[member][input];
  }

  static double uniform(int member, int input) {
    return UNIFORM[member][input];
  }

  /**
   * The band of a time that is nearly linear in the normal inputs, minutes, given for every member.
   */
  static Band smoothBand(double[] times) {
    double[] logs = logs(times);
    double[] slopes = slopes(logs);
    double sd = StrictMath.sqrt(dot(slopes, slopes));
    double[] linear = linear(slopes);
    Arrays.sort(linear);
    Arrays.sort(logs);
    return band(
        logs,
        quantile(logs, P10) - Z90 * sd - quantile(linear, P10),
        quantile(logs, P50) - quantile(linear, P50),
        quantile(logs, P90) + Z90 * sd - quantile(linear, P90));
  }

  /** The band of any time, minutes, given for every member; infinite ones are never. */
  static Band band(double[] times) {
    double[] logs = logs(times);
    Arrays.sort(logs);
    return band(logs, quantile(logs, P10), quantile(logs, P50), quantile(logs, P90));
  }

  private static Band band(double[] sortedLogs, double p10, double p50, double p90) {
    return new Band(
        minutes(sortedLogs, 0.1, Math.min(p10, p50)),
        minutes(sortedLogs, 0.5, p50),
        minutes(sortedLogs, 0.9, Math.max(p50, p90)));
  }

  /** Never, when as many members as that never get there. */
  private static double minutes(double[] sortedLogs, double share, double ln) {
    boolean never = sortedLogs[(int) (share * MEMBERS)] >= LN_NEVER;
    return never ? Double.POSITIVE_INFINITY : StrictMath.exp(ln);
  }

  private static double[] logs(double[] times) {
    double[] logs = new double[MEMBERS];
    for (int i = 0; i < MEMBERS; i++) {
      logs[i] = Math.min(LN_NEVER, StrictMath.log(times[i]));
    }
    return logs;
  }

  /**
   * The Harrell-Davis estimate: a weighted mean of the sorted values around the quantile
   * (Biometrika 69 (1982) 635). No weight is negative, so that a sample that is nowhere larger
   * never gives a larger quantile.
   */
  private static double quantile(double[] sorted, double[] weights) {
    return dot(sorted, weights);
  }

  private static double[] harrellDavis(double share) {
    double a = (MEMBERS + 1) * share;
    double b = (MEMBERS + 1) * (1 - share);
    double[] weights = new double[MEMBERS];
    double below = 0;
    for (int i = 0; i < MEMBERS; i++) {
      double upTo = i + 1 == MEMBERS ? 1 : Beta.regularizedBeta((i + 1.0) / MEMBERS, a, b);
      weights[i] = upTo - below;
      below = upTo;
    }
    return weights;
  }

  /** Least-squares slopes of a quantity in the normal inputs. */
  private static double[] slopes(double[] quantity) {
    double[] moments = new double[NORMALS];
    for (int i = 0; i < MEMBERS; i++) {
      for (int j = 0; j < NORMALS; j++) {
        moments[j] += quantity[i] * NORMAL[i][j];
      }
    }
    double[] slopes = new double[NORMALS];
    for (int j = 0; j < NORMALS; j++) {
      slopes[j] = dot(GRAM_INVERSE[j], moments);
    }
    return slopes;
  }

  private static double[] linear(double[] slopes) {
    double[] linear = new double[MEMBERS];
    for (int i = 0; i < MEMBERS; i++) {
      linear[i] = dot(slopes, NORMAL[i]);
    }
    return linear;
  }

  private static double[][] gram() {
    double[][] gram = new double[NORMALS][NORMALS];
    for (double[] point : NORMAL) {
      for (int j = 0; j < NORMALS; j++) {
        for (int k = 0; k < NORMALS; k++) {
          gram[j][k] += point[j] * point[k];
        }
      }
    }
    return gram;
  }

  private static double dot(double[] left, double[] right) {
    double sum = 0;
    for (int i = 0; i < left.length; i++) {
      sum += left[i] * right[i];
    }
    return sum;
  }
}
