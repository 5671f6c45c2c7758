package org.layroom.predictor.room;

/**
 * What a person who knows the room would look at, as numbers: how it changed at these hours on the
 * last seven days, on the last three, on the last one and on this weekday; how far it is from its
 * usual, and where that is going; how moist the air became (a change of weather), and what it is
 * like outdoors. All but the first are differences that are zero on a usual day, and zero when they
 * are not known.
 */
final class HabitFeatures {
  static final int SIZE = 16;
  static final int WEEK = 0;
  static final int YESTERDAY = 15;

  private static final int DAY = SlotSeries.PER_DAY;
  private static final int HOUR = SlotSeries.PER_HOUR;

  private final SlotSeries series;
  private final SlotSeries dewPoint;
  private final Outdoors outdoors;

  HabitFeatures(SlotSeries series, SlotSeries dewPoint, Outdoors outdoors) {
    this.series = series;
    this.dewPoint = dewPoint;
    this.outdoors = outdoors;
  }

  /** The numbers for a forecast made at a slot for one lead, given what the filter expects. */
  double[] at(long slot, int lead, double expected) {
    double now = series.at(slot);
    int back = (lead + DAY - 1) / DAY;
    double week = meanChange(slot, lead, back, 7);
    double[] f = new double[SIZE];
    f[WEEK] = known(now + week - expected);
    f[1] = known(change(slot - (long) back * DAY, lead) - week);
    f[2] = known(meanChange(slot, lead, back, 3) - week);
    double unusual = unusual(slot);
    f[3] = known(unusual);
    f[4] = known(unusual - unusual(slot - HOUR));
    f[5] = known(unusual - unusual(slot - 3 * HOUR));
    f[6] = known(unusual - unusual(slot - DAY));
    f[7] = known(unusual - unusual(slot - 6 * HOUR));
    f[8] = sameWeekday(slot, lead, back);
    double dew = dewPoint.at(slot);
    f[9] = known(dew - dewPoint.at(slot - 6 * HOUR));
    f[10] = known(dew - dewPoint.at(slot - DAY));
    f[11] = known(unusual - unusual(slot - HOUR / 3));
    f[14] = now - expected;
    f[YESTERDAY] = known(series.at(slot + lead - (long) back * DAY) - expected);
    f[12] = known(outdoors.unusualAhead(slot, lead));
    f[13] = known(outdoors.unusualLately(slot));
    return f;
  }

  private static double known(double value) {
    return Double.isNaN(value) ? 0 : value;
  }

  private double change(long slot, int lead) {
    return series.at(slot + lead) - series.at(slot);
  }

  /** Mean change over the same hours on some days, the newest {@code back} days ago. */
  private double meanChange(long slot, int lead, int back, int days) {
    double sum = 0;
    int count = 0;
    for (int d = back; d < back + days; d++) {
      double change = change(slot - (long) d * DAY, lead);
      if (!Double.isNaN(change)) {
        sum += change;
        count++;
      }
    }
    return count == 0 ? Double.NaN : sum / count;
  }

  /** How the same weekday differed from the week before it, on the last three weeks. */
  private double sameWeekday(long slot, int lead, int back) {
    double sum = 0;
    int count = 0;
    for (int week = 1; week <= 3; week++) {
      long then = slot - 7L * week * DAY;
      double change = change(then, lead) - meanChange(then, lead, back, 7);
      if (!Double.isNaN(change)) {
        sum += change;
        count++;
      }
    }
    return sum / (count + 1);
  }

  /** How far a slot is from the mean of the same time on the seven days before. */
  private double unusual(long slot) {
    double sum = 0;
    int count = 0;
    for (int d = 1; d <= 7; d++) {
      double value = series.at(slot - (long) d * DAY);
      if (!Double.isNaN(value)) {
        sum += value;
        count++;
      }
    }
    return count == 0 ? Double.NaN : series.at(slot) - sum / count;
  }
}
