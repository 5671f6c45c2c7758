package org.layroom.device.demo;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.publishing.Publisher;
import org.layroom.device.publishing.SampleDelivery;
import org.layroom.device.sampling.CleanAir;
import org.layroom.device.sampling.CorrectedSensor;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.simulated.SimulatedOneWire.Behavior;
import org.layroom.device.simulated.SimulatedShop;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * A device in an invented shop, on any pace. Its past is measured by the same drivers and goes
 * through the same outbox as everything else, as if the device had been running before.
 */
public final class DemoDevice implements AutoCloseable {
  /** The past is sampled more seldom than the present, so that it is there at once. */
  private static final Duration PAST_PERIOD = Duration.ofMinutes(1);

  private static final Duration MOST_SILENCE = Duration.ofMinutes(10);

  private static final String BOOT_OF_THE_PAST = "past";

  private final SimulatedShop shop;
  private final SimulatedBench bench;
  private final Outbox outbox;
  private final Publisher publisher;
  private final LocalAlarm alarm;
  private final Pace.Scheduled sampling;

  private DemoDevice(
      SimulatedShop shop,
      SimulatedBench bench,
      Outbox outbox,
      Publisher publisher,
      LocalAlarm alarm,
      Pace.Scheduled sampling) {
    this.shop = shop;
    this.bench = bench;
    this.outbox = outbox;
    this.publisher = publisher;
    this.alarm = alarm;
    this.sampling = sampling;
  }

  /**
   * Fills in the past (on the caller's thread, a second or two), then connects and measures on the
   * pace until closed. An outbox with samples in it has its past already.
   *
   * @throws IOException when the outbox's folder cannot be used
   */
  public static DemoDevice start(Pace pace, DemoConnection connection, DemoStory story)
      throws IOException {
    Instant now = pace.now();
    Duration uptimeThen = pace.uptime();
    Outbox outbox =
        Outbox.open(connection.outboxDirectory(), OutboxOptions.standard(story.samplePeriod()));
    SimulatedShop shop = new SimulatedShop(now.minus(story.past()), story.zone(), story.seed());
    if (outbox.last() == 0 && !story.past().isZero()) {
      fillIn(shop, outbox, now.minus(story.past()), now);
    }
    SimulatedBench bench =
        new SimulatedBench(
            () -> {
              shop.advanceTo(now.plus(pace.uptime().minus(uptimeThen)));
              return shop.truth();
            },
            pace::uptime);
    Publisher publisher = new Publisher(connection.address(), connection.channel(), outbox, pace);
    CleanAir reading = new CleanAir(SimulatedShop.cleanAirTicks(), now);
    CurrentCleanAir cleanAir = new CurrentCleanAir(Optional.of(reading));
    CurrentOffsets offsets = new CurrentOffsets(Map.of());
    List<Sensor> sensors =
        DemoSensors.of(bench, pace, story.past(), cleanAir).stream()
            .map(sensor -> CorrectedSensor.of(sensor, offsets, Optional.empty()))
            .toList();
    LocalAlarm alarm = LocalAlarm.unwired(pace, watched(reading, story), publisher::alarm);
    publisher.onAcknowledged(alarm::acknowledged);
    publisher.onSettings(
        decided -> {
          decided.cleanAir().ifPresent(one -> cleanAir.offer(new CleanAir(one.raw(), one.taken())));
          offsets.decided(decided.offsets());
          alarm.decided(decided);
        });
    Sampler sampler =
        new Sampler(
            pace, () -> sensors, alarm.andThen(new SampleDelivery(outbox, publisher, offsets)));
    publisher.start();
    pace.after(Duration.ZERO, sampler::sampleOnce);
    return new DemoDevice(
        shop, bench, outbox, publisher, alarm, sampler.every(story.samplePeriod()));
  }

  private static WatchSettings watched(CleanAir reading, DemoStory story) {
    Duration silence = story.samplePeriod().multipliedBy(3);
    return new WatchSettings(
        VaporSensor.Chip.with(CleanAirReading.of(reading.ticks(), reading.taken())),
        WatchSettings.Place.WORK_ROOM,
        silence.compareTo(MOST_SILENCE) > 0 ? MOST_SILENCE : silence);
  }

  private static void fillIn(SimulatedShop shop, Outbox outbox, Instant from, Instant to)
      throws IOException {
    outbox.syncing(false);
    try (SteppedPace past = new SteppedPace(from)) {
      SimulatedBench bench =
          new SimulatedBench(
              () -> {
                shop.advanceTo(past.now());
                return shop.truth();
              },
              past::uptime);
      CurrentCleanAir cleanAir =
          new CurrentCleanAir(Optional.of(new CleanAir(SimulatedShop.cleanAirTicks(), from)));
      List<Sensor> sensors = DemoSensors.of(bench, past, Duration.ZERO, cleanAir);
      new Sampler(past, () -> sensors, sampled -> outbox.append(sampled, BOOT_OF_THE_PAST))
          .every(PAST_PERIOD);
      past.advanceTo(to);
    }
    outbox.syncing(true);
  }

  /** Within half an hour of the pace the room is at 11 degC and 88 % and stays so. */
  public void makeColdAndDamp() {
    shop.makeColdAndDamp();
  }

  /** Heater, door and damp are as on a usual day again. */
  public void backToUsual() {
    shop.backToUsual();
  }

  /** A fender is rolled out from now on: vapor rises, and is carried away by the fan. */
  public void startLayup() {
    shop.startLayup();
  }

  /** A layup of another size, in grams of vapor that it gives off in all. */
  public void startLayup(double grams) {
    shop.startLayup(grams);
  }

  /** A mold is wiped down with solvent: so many grams are in the air within two minutes. */
  public void wipeDown(double grams) {
    shop.wipeDown(grams);
  }

  /** Everything that gives off vapor is carried out. */
  public void partsOut() {
    shop.partsOut();
  }

  /** The fan runs from now on, or stands still whatever is done in the room. */
  public void fan(boolean on) {
    shop.fan(on);
  }

  /** How many times its clean air the shop's vapor really is: what no device could tell. */
  public double trueTimesCleanAir() {
    return shop.timesCleanAir();
  }

  /** Whether layups begin by themselves on some evenings and weekend afternoons. On at first. */
  public void ownLayups(boolean on) {
    shop.ownLayups(on);
  }

  public void heater(boolean works) {
    shop.heater(works);
  }

  public void door(boolean open) {
    shop.door(open);
  }

  /** From now on the sensor does not answer. */
  public void unplug(DemoSensor sensor) {
    switch (sensor) {
      case AIR -> bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
      case VOC -> bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
      case MOLD -> bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
      case RESIN -> bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.UNPLUGGED);
    }
  }

  /** The sensor answers again, undisturbed. */
  public void plugIn(DemoSensor sensor) {
    switch (sensor) {
      case AIR -> mend(SimulatedBench.AIR_ADDRESS);
      case VOC -> mend(SimulatedBench.VOC_ADDRESS);
      case MOLD -> bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.WORKS);
      case RESIN -> bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.WORKS);
    }
  }

  private void mend(int address) {
    bench.i2c().plugIn(address);
    bench.i2c().disturb(address, false);
  }

  /** From now on the sensor's check sums are wrong. */
  public void disturb(DemoSensor sensor) {
    switch (sensor) {
      case AIR -> bench.i2c().disturb(SimulatedBench.AIR_ADDRESS, true);
      case VOC -> bench.i2c().disturb(SimulatedBench.VOC_ADDRESS, true);
      case MOLD -> bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.BAD_CRC);
      case RESIN -> bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.BAD_CRC);
    }
  }

  /** How many samples have been measured, the filled-in past among them. */
  public long measured() {
    return outbox.last();
  }

  /** Up to which sample everything is stored upstairs. */
  public long stored() {
    return outbox.mark();
  }

  /** Waits until everything measured so far is stored upstairs, or for a real time at most. */
  public boolean awaitStored(Duration patience) throws InterruptedException {
    return publisher.awaitStored(patience);
  }

  /** Stops measuring, tells the broker, and closes the outbox. */
  @Override
  public void close() throws IOException {
    sampling.cancel();
    alarm.close();
    publisher.close();
    outbox.close();
  }
}
