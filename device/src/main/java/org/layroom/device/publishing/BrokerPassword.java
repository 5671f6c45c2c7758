package org.layroom.device.publishing;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Where a password at a broker is. */
public sealed interface BrokerPassword {

  /** The password now. */
  String read() throws IOException;

  /** The first line of a file, read anew at each connect, so that it can change meanwhile. */
  record InFile(Path file) implements BrokerPassword {
    @Override
    public String read() throws IOException {
      return Files.readString(file).lines().findFirst().orElse("");
    }
  }

  /** Known to this process alone, and gone with it. */
  record InMemory(String text) implements BrokerPassword {
    @Override
    public String read() {
      return text;
    }

    @Override
    public String toString() {
      return "a password in memory";
    }
  }
}
