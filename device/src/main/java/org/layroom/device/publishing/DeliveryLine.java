package org.layroom.device.publishing;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.layroom.device.outbox.Appended;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.sampling.Sampled;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.tinylog.Logger;

/** The way of one sample: onto the disk, then to the publisher, with the faults for the status. */
public final class DeliveryLine implements Consumer<Sampled> {
  private static final String OUTBOX_PART = "outbox";

  private final Outbox outbox;
  private final Publisher publisher;
  private List<PartFault> told = List.of();

  public DeliveryLine(Outbox outbox, Publisher publisher) {
    this.outbox = outbox;
    this.publisher = publisher;
  }

  @Override
  public void accept(Sampled sampled) {
    List<PartFault> faults = new ArrayList<>(sampled.faults());
    if (!sampled.readings().isEmpty()) {
      Appended appended = outbox.append(sampled);
      if (appended instanceof Appended.NotKept notKept) {
        faults.add(new PartFault(OUTBOX_PART, notKept.reason()));
      }
      publisher.offer(appended, sampled);
    }
    if (!faults.equals(told)) {
      told = List.copyOf(faults);
      told.forEach(fault -> Logger.warn("{}: {}", fault.part(), fault.reason()));
    }
    publisher.faults(List.copyOf(faults));
  }
}
