package org.layroom.device.publishing;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxAppend;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.SensorOffset;
import org.tinylog.Logger;

/** The way of one sample: onto the disk, then to the publisher, with the faults for the status. */
public final class SampleDelivery implements Consumer<Sample> {
  private static final String OUTBOX_PART = "outbox";

  private final Outbox outbox;
  private final Publisher publisher;
  private final CurrentOffsets offsets;
  private final Supplier<List<PartFault>> standing;
  private List<PartFault> told = List.of();
  private List<SensorOffset> corrected = List.of();

  /**
   * The way into an outbox and on.
   *
   * @param offsets what the samples were corrected by
   */
  public SampleDelivery(Outbox outbox, Publisher publisher, CurrentOffsets offsets) {
    this(outbox, publisher, offsets, List::of);
  }

  /**
   * The same, with faults of parts that are no sensors.
   *
   * @param standing asked with each sample, and told with its own
   */
  public SampleDelivery(
      Outbox outbox,
      Publisher publisher,
      CurrentOffsets offsets,
      Supplier<List<PartFault>> standing) {
    this.standing = standing;
    this.outbox = outbox;
    this.publisher = publisher;
    this.offsets = offsets;
  }

  @Override
  public void accept(Sample sampled) {
    List<PartFault> faults = new ArrayList<>(standing.get());
    faults.addAll(sampled.faults());
    if (!sampled.readings().isEmpty()) {
      OutboxAppend appended = outbox.append(sampled);
      if (appended instanceof OutboxAppend.NotKept notKept) {
        faults.add(new PartFault(OUTBOX_PART, notKept.reason()));
      }
      publisher.offer(appended, sampled);
    }
    if (!faults.equals(told)) {
      told = List.copyOf(faults);
      told.forEach(fault -> Logger.warn("{}: {}", fault.part(), fault.reason()));
    }
    List<SensorOffset> now = offsets.used();
    if (!now.equals(corrected)) {
      corrected = now;
      now.forEach(one -> Logger.info("{} is corrected by {}", one.series(), one.words()));
    }
    publisher.state(List.copyOf(faults), now);
  }
}
