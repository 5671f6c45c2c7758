package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.HexFormat;
import java.util.Optional;
import java.util.regex.Pattern;

/** The random name that an outbox is given once: 16 hexadecimal digits. */
final class OutboxName {
  private static final Pattern NAME = Pattern.compile("[0-9a-f]{16}");

  private OutboxName() {}

  static String random() {
    byte[] bytes = new byte[SegmentScan.NAME_BYTES / 2];
    new SecureRandom().nextBytes(bytes);
    return HexFormat.of().formatHex(bytes);
  }

  static boolean valid(String name) {
    return NAME.matcher(name).matches();
  }

  /** The name in a file; empty when the file is missing, cut short or damaged. */
  static Optional<String> read(Path file) throws IOException {
    if (!Files.exists(file)) {
      return Optional.empty();
    }
    String name = Files.readString(file, StandardCharsets.ISO_8859_1).strip();
    return valid(name) ? Optional.of(name) : Optional.empty();
  }
}
