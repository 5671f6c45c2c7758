package org.layroom.predictor.room;

/** The rules of thumb that the forecast has to beat; NaN where a rule cannot be applied. */
enum SimpleRules {
  PERSISTENCE("as now") {
    @Override
    double forecast(RecordedRoom room, long at, int lead) {
      return room.at(at, WITHIN);
    }
  },
  YESTERDAY("same time yesterday") {
    @Override
    double forecast(RecordedRoom room, long at, int lead) {
      return room.at(at + lead - back(lead) * DAY, WITHIN);
    }
  },
  LAST_CHANGE("now + last change") {
    @Override
    double forecast(RecordedRoom room, long at, int lead) {
      return room.at(at, WITHIN) + change(room, at - back(lead) * DAY, lead);
    }
  },
  WEEK_CHANGE("now + 7-day change") {
    @Override
    double forecast(RecordedRoom room, long at, int lead) {
      double sum = 0;
      int count = 0;
      for (long d = back(lead); d < back(lead) + 7; d++) {
        double change = change(room, at - d * DAY, lead);
        if (!Double.isNaN(change)) {
          sum += change;
          count++;
        }
      }
      return count == 0 ? Double.NaN : room.at(at, WITHIN) + sum / count;
    }
  };

  static final long DAY = 24 * 60;
  static final int WITHIN = 6;

  private final String words;

  SimpleRules(String words) {
    this.words = words;
  }

  String words() {
    return words;
  }

  /** The forecast for some minutes after a minute, from what was read until then. */
  abstract double forecast(RecordedRoom room, long at, int lead);

  /** Whole days back so that nothing after the start is looked at. */
  static long back(int lead) {
    return (lead + DAY - 1) / DAY;
  }

  static double change(RecordedRoom room, long from, int lead) {
    return room.at(from + lead, WITHIN) - room.at(from, WITHIN);
  }
}
