package org.layroom.device.demo;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.publishing.BrokerAddress;
import org.layroom.device.publishing.Publisher;
import org.layroom.device.publishing.SampleDelivery;
import org.layroom.device.sampling.AirSensor;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ThermometerSensor;
import org.layroom.device.sampling.ValueOrigin;
import org.layroom.device.sampling.VocSensor;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedBench;

/**
 * A device that shows a recording row by row on simulated chips and measures each row once, through
 * the real drivers, outbox and publisher. For one thread, which also moves the pace.
 */
public final class RecordedDevice implements AutoCloseable {
  private static final Duration CONNECT_PATIENCE = Duration.ofSeconds(10);
  private static final Duration SEND_PATIENCE = Duration.ofSeconds(10);

  /** Limits of the outbox only: recordings are not thinned. */
  private static final OutboxOptions OPTIONS =
      new OutboxOptions(OutboxOptions.Sync.NEVER, 256 * 1024, Long.MAX_VALUE);

  private final SteppedPace pace;
  private final Outbox outbox;
  private final Publisher publisher;
  private final Sampler sampler;
  private final Sensor air;
  private final Sensor airWithoutHumidity;
  private final Sensor humidityAlone;
  private final Sensor mold;
  private final Sensor resin;
  private final Sensor voc;
  private List<Sensor> shown = List.of();
  private RoomTruth row = new RoomTruth(20, 50, 20, 20, 101_325, 30_000);

  private RecordedDevice(SteppedPace pace, Outbox outbox, Publisher publisher) {
    this.pace = pace;
    this.outbox = outbox;
    this.publisher = publisher;
    SimulatedBench bench = new SimulatedBench(() -> row, pace::uptime);
    Sht4x sht4x = new Sht4x(bench.i2c().device(SimulatedBench.AIR_ADDRESS), pace);
    air = AirSensor.sht4x(sht4x, ValueOrigin.RECORDING);
    airWithoutHumidity = AirSensor.thermometer(sht4x, ValueOrigin.RECORDING);
    humidityAlone = AirSensor.hygrometer(sht4x);
    resin =
        ThermometerSensor.resin(
            new Ds18b20(bench.oneWire(), SimulatedBench.RESIN_ID), ValueOrigin.RECORDING);
    mold =
        ThermometerSensor.mold(
            new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), ValueOrigin.RECORDING);
    voc =
        new VocSensor(
            new Sgp40(bench.i2c().device(SimulatedBench.VOC_ADDRESS), pace), ValueOrigin.RECORDING);
    sampler =
        new Sampler(
            pace, () -> shown, new SampleDelivery(outbox, publisher, new CurrentOffsets(Map.of())));
  }

  /**
   * Opens the outbox and begins to connect; waits up to ten seconds of real time for the broker.
   *
   * @throws IOException when the outbox's folder cannot be used
   */
  public static RecordedDevice open(SteppedPace pace, DemoConnection connection)
      throws IOException, InterruptedException {
    BrokerAddress address = connection.address();
    Outbox outbox = Outbox.open(connection.outboxDirectory(), OPTIONS);
    Publisher publisher = new Publisher(address, connection.channel(), outbox, pace);
    publisher.start();
    publisher.awaitConnected(CONNECT_PATIENCE);
    return new RecordedDevice(pace, outbox, publisher);
  }

  /**
   * Moves the pace to the row's time and measures the row. While a broker is there, rows go to it
   * in their order.
   *
   * @throws IllegalArgumentException when the row's time is not after the row before
   */
  public void play(RecordedRow next) throws InterruptedException {
    Instant now = pace.now();
    if (next.time().isBefore(now)) {
      throw new IllegalArgumentException(
          "time " + next.time() + " is not after the row before (" + now + ")");
    }
    pace.advanceTo(next.time());
    row =
        new RoomTruth(
            next.temperatureC().orElse(row.airC()),
            next.humidityPct().orElse(row.humidityPct()),
            next.moldTemperatureC().orElse(row.moldC()),
            next.resinTemperatureC().orElse(row.resinC()),
            row.pressurePa(),
            next.vocRaw().orElse(row.vocRaw()));
    shown = partsFor(next);
    sampler.sampleOnce();
    publisher.awaitRoom(SEND_PATIENCE);
  }

  /** A column that is empty in this row has no sensor in this row. */
  private List<Sensor> partsFor(RecordedRow next) {
    List<Sensor> sensors = new ArrayList<>();
    if (next.temperatureC().isPresent()) {
      sensors.add(next.humidityPct().isPresent() ? air : airWithoutHumidity);
    } else if (next.humidityPct().isPresent()) {
      sensors.add(humidityAlone);
    }
    if (next.moldTemperatureC().isPresent()) {
      sensors.add(mold);
    }
    if (next.resinTemperatureC().isPresent()) {
      sensors.add(resin);
    }
    if (next.vocRaw().isPresent()) {
      sensors.add(voc);
    }
    return sensors;
  }

  /**
   * Waits until all rows are stored upstairs, or for a real time at most; says whether they are.
   */
  public boolean awaitStored(Duration patience) throws InterruptedException {
    return publisher.awaitStored(patience);
  }

  /** Rows measured and kept so far. */
  public long measured() {
    return outbox.last();
  }

  /** Up to which row everything is stored upstairs. */
  public long stored() {
    return outbox.mark();
  }

  @Override
  public void close() throws IOException {
    publisher.close();
    outbox.close();
  }
}
