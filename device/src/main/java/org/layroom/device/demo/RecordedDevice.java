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
import org.layroom.device.publishing.DeliveryLine;
import org.layroom.device.publishing.Publisher;
import org.layroom.device.sampling.AirPart;
import org.layroom.device.sampling.KnownOffsets;
import org.layroom.device.sampling.Origin;
import org.layroom.device.sampling.Part;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.ThermometerPart;
import org.layroom.device.sampling.VocPart;
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
  private static final OutboxOptions OPTIONS = new OutboxOptions(false, 256 * 1024, Long.MAX_VALUE);

  private final SteppedPace pace;
  private final Outbox outbox;
  private final Publisher publisher;
  private final Sampler sampler;
  private final Part air;
  private final Part airWithoutHumidity;
  private final Part humidityAlone;
  private final Part mold;
  private final Part resin;
  private final Part voc;
  private List<Part> shown = List.of();
  private RoomTruth row = new RoomTruth(20, 50, 20, 20, 101_325, 30_000);

  private RecordedDevice(SteppedPace pace, Outbox outbox, Publisher publisher) {
    this.pace = pace;
    this.outbox = outbox;
    this.publisher = publisher;
    SimulatedBench bench = new SimulatedBench(() -> row, pace::uptime);
    Sht4x sht4x = new Sht4x(bench.i2c().device(SimulatedBench.AIR_ADDRESS), pace);
    air = AirPart.sht4x(sht4x, Origin.RECORDING);
    airWithoutHumidity = AirPart.thermometer(sht4x, Origin.RECORDING);
    humidityAlone = AirPart.hygrometer(sht4x);
    resin =
        ThermometerPart.resin(
            new Ds18b20(bench.oneWire(), SimulatedBench.RESIN_ID), Origin.RECORDING);
    mold =
        ThermometerPart.mold(
            new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), Origin.RECORDING);
    voc =
        new VocPart(
            new Sgp40(bench.i2c().device(SimulatedBench.VOC_ADDRESS), pace), Origin.RECORDING);
    sampler =
        new Sampler(
            pace, () -> shown, new DeliveryLine(outbox, publisher, new KnownOffsets(Map.of())));
  }

  /**
   * Opens the outbox and begins to connect; waits up to ten seconds of real time for the broker.
   *
   * @throws IOException when the outbox's folder cannot be used
   */
  public static RecordedDevice open(SteppedPace pace, DemoConnection connection)
      throws IOException, InterruptedException {
    BrokerAddress address = BrokerAddress.of(connection.broker());
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
  private List<Part> partsFor(RecordedRow next) {
    List<Part> parts = new ArrayList<>();
    if (next.temperatureC().isPresent()) {
      parts.add(next.humidityPct().isPresent() ? air : airWithoutHumidity);
    } else if (next.humidityPct().isPresent()) {
      parts.add(humidityAlone);
    }
    if (next.moldTemperatureC().isPresent()) {
      parts.add(mold);
    }
    if (next.resinTemperatureC().isPresent()) {
      parts.add(resin);
    }
    if (next.vocRaw().isPresent()) {
      parts.add(voc);
    }
    return parts;
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
