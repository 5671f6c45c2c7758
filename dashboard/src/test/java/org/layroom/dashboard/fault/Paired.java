package org.layroom.dashboard.fault;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.Supplier;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.testing.OutboxDevice;

/**
 * The campaign's device with the name and password that pairing gave it; from then on nobody comes
 * in at the broker without one.
 *
 * @param device its login
 * @param dashboard the dashboard's own, for what only it may hear
 */
record Paired(OutboxDevice.Login device, OutboxDevice.Login dashboard) {

  /** Pairs in the data folder of a dashboard that is not running yet. */
  static Paired in(Path data) {
    return with(DeviceLogins.of(data));
  }

  static Paired with(DeviceLogins logins) {
    return new Paired(
        OutboxDevice.Login.of(logins, Ledger.CHANNEL), OutboxDevice.Login.dashboards(logins));
  }

  /** The device written apart from the real one, sending. */
  OutboxDevice sending(Supplier<URI> broker) {
    return new OutboxDevice(broker, Ledger.CHANNEL, Ledger.OUTBOX, device).start();
  }

  /**
   * Settings of the shipped device.
   *
   * @param more further lines
   */
  Path settings(Path folder, URI broker, Path data, String more) throws IOException {
    Files.createDirectories(data);
    Path password = Files.writeString(folder.resolve("device-password"), device.password() + "\n");
    return Files.writeString(
        folder.resolve("device.properties"),
        "broker.uri=mqtt://%s:%d\nbroker.user=%s\nbroker.password-file=%s\ndata=%s\n%s"
            .formatted(broker.getHost(), broker.getPort(), device.user(), password, data, more));
  }
}
