package org.layroom.predictor.room;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * One measured quantity of one room, learned reading by reading: the {@link RhythmFilter} expects,
 * the {@link HabitRegression} of each lead corrects, the {@link ErrorBand} of each lead tells how
 * far to trust it. Once an hour a forecast is made and put aside; what it got wrong is learned when
 * its time has come. Memory is bounded: ten weeks of slots, three days of forecasts put aside.
 */
final class SeriesModel {
  private static final double FEWEST = 6;
  private static final double FIRST_SIZE = 1.3 * ErrorBand.MEAN_ABSOLUTE;

  /** Until a longer lead has been seen, it is supposed to do a little worse than the one before. */
  private static final double LONGER = 1.03;

  private final SlotSeries series = new SlotSeries();
  private final RhythmFilter filter = new RhythmFilter();
  private final HabitRegression[] corrections = new HabitRegression[Leads.COUNT];
  private final ErrorBand[] bands = new ErrorBand[Leads.COUNT];
  private final Deque<Pending> pending = new ArrayDeque<>();
  private final HabitFeatures habits;
  private final RecentSurprise trouble = new RecentSurprise();
  private final NightlyErrors nights = new NightlyErrors();
  private long committed = Long.MIN_VALUE;
  private long firstSlot = Long.MIN_VALUE;
  private long lastOrigin = Long.MIN_VALUE;
  private int slotsSeen;

  /** A forecast put aside until its time has come. */
  private record Pending(long slot, Knots knots) {}

  /** A forecast at the knots; sizes are in multiples of the doubt. */
  static final class Knots {
    final double[][] habits = new double[Leads.COUNT][];
    final double[] expected = new double[Leads.COUNT];
    final double[] answer = new double[Leads.COUNT];
    final double[] doubt = new double[Leads.COUNT];
    final double[] size = new double[Leads.COUNT];
    final double[] shown = new double[Leads.COUNT];
  }

  SeriesModel(SlotSeries dewPoint, Outdoors outdoors) {
    habits = new HabitFeatures(series, dewPoint, outdoors);
    for (int k = 0; k < Leads.COUNT; k++) {
      corrections[k] = new HabitRegression(Leads.slots(k));
      bands[k] = new ErrorBand();
    }
  }

  SlotSeries series() {
    return series;
  }

  NightlyErrors nights() {
    return nights;
  }

  /** Slots with a reading so far. */
  int slotsSeen() {
    return slotsSeen;
  }

  long firstSlot() {
    return firstSlot;
  }

  /** Takes a reading; the slot must not be before the newest. */
  void add(long slot, double value) {
    long newest = series.last();
    if (slot != newest) {
      if (newest != Long.MIN_VALUE) {
        commit(newest);
      } else {
        firstSlot = slot;
      }
      slotsSeen++;
    }
    series.add(slot, value);
  }

  private void commit(long slot) {
    filter.observe(slot, series.at(slot));
    long from = committed == Long.MIN_VALUE ? slot : Math.max(committed + 1, slot - Leads.LONGEST);
    for (long s = from; s <= slot; s++) {
      learn(s);
    }
    committed = slot;
    if (lastOrigin == Long.MIN_VALUE || slot - lastOrigin >= SlotSeries.PER_HOUR) {
      lastOrigin = slot;
      pending.addLast(new Pending(slot, knots(slot, filter, true)));
    }
  }

  private void learn(long slot) {
    double truth = series.at(slot);
    while (!pending.isEmpty() && slot - pending.getFirst().slot() > Leads.LONGEST) {
      pending.removeFirst();
    }
    if (Double.isNaN(truth)) {
      return;
    }
    for (Pending made : pending) {
      int k = knotAt(slot - made.slot());
      if (k >= 0) {
        learn(made, k, truth);
      }
    }
  }

  private static int knotAt(long lead) {
    for (int k = 0; k < Leads.COUNT; k++) {
      if (Leads.slots(k) == lead) {
        return k;
      }
    }
    return -1;
  }

  private void learn(Pending made, int k, double truth) {
    Knots knots = made.knots();
    double error = truth - knots.answer[k];
    double inDoubts = error / knots.doubt[k];
    trouble.learn(k, Math.abs(inDoubts) / knots.size[k]);
    nights.learn(made.slot(), Leads.HOURS[k], error);
    bands[k].learn(made.slot(), inDoubts, knots.size[k]);
    corrections[k].learn(
        made.slot(),
        knots.habits[k],
        truth - knots.expected[k],
        knots.answer[k] - knots.expected[k]);
  }

  private Knots knots(long slot, RhythmFilter at, boolean toLearn) {
    double[] all = at.expected(Leads.LONGEST);
    Knots made = new Knots();
    double supposed = FIRST_SIZE * Math.sqrt(at.scaleSquared());
    NewRoomDoubt youth = new NewRoomDoubt((slot - firstSlot) / (double) SlotSeries.PER_DAY);
    for (int k = 0; k < Leads.COUNT; k++) {
      int lead = Leads.slots(k);
      made.expected[k] = all[lead];
      made.habits[k] = habits.at(slot, lead, all[lead]);
      made.answer[k] =
          all[lead]
              + (toLearn
                  ? corrections[k].roughAnswer(slot, made.habits[k])
                  : corrections[k].answer(slot, made.habits[k]));
      made.doubt[k] = at.relativeSd(lead);
      supposed = bands[k].size(slot, supposed, FEWEST + Leads.HOURS[k]);
      made.size[k] = supposed * trouble.factor(k);
      made.shown[k] = youth.widened(made.size[k] * made.doubt[k], Leads.HOURS[k]) / made.doubt[k];
      supposed *= LONGER;
    }
    return made;
  }

  /** The forecast from the newest slot on; the model itself stays as it is. */
  SeriesOutlook outlook() {
    RhythmFilter now = filter.copy();
    long slot = series.last();
    now.observe(slot, series.at(slot));
    Knots knots = knots(slot, now, false);
    double[][] shapes = new double[Leads.COUNT][];
    for (int k = 0; k < Leads.COUNT; k++) {
      shapes[k] = bands[k].sortedShape();
    }
    return new SeriesOutlook(slot, now, knots, shapes, ShownRange.of(series));
  }
}
