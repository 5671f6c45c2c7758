package org.layroom.dashboard.backup;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** Checksums of whole files by SHA-256 (FIPS 180-4), as {@code sha256sum} prints them. */
final class Sha256 {
  private Sha256() {}

  static String of(Path file) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      return copy(in, OutputStream.nullOutputStream());
    }
  }

  /** Copies everything and returns the checksum of what was copied. */
  static String copy(InputStream in, OutputStream out) throws IOException {
    return copy(in, out, Long.MAX_VALUE);
  }

  /** Copies so many bytes and no more, and returns the checksum of what was copied. */
  static String copy(InputStream in, OutputStream out, long most) throws IOException {
    try {
      DigestInputStream digesting = new DigestInputStream(in, MessageDigest.getInstance("SHA-256"));
      byte[] buffer = new byte[64 * 1024];
      long left = most;
      while (left > 0) {
        int read = digesting.read(buffer, 0, (int) Math.min(buffer.length, left));
        if (read < 0) {
          break;
        }
        out.write(buffer, 0, read);
        left -= read;
      }
      return HexFormat.of().formatHex(digesting.getMessageDigest().digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }
}
