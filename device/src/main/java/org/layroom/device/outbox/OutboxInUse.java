package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.file.Path;

/** Another program has an outbox open. */
public final class OutboxInUse extends IOException {
  private static final long serialVersionUID = 1L;

  OutboxInUse(Path folder) {
    super("the outbox in " + folder + " is in use by another device");
  }
}
