package org.layroom.dashboard.access.device;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Rights that somebody has loosened are tightened at the next start. */
class OwnerOnlyFilesTest {
  @TempDir Path folder;

  private static Path with(Path file, String rights) throws IOException {
    return Files.setPosixFilePermissions(file, PosixFilePermissions.fromString(rights));
  }

  private static String rights(Path file) throws IOException {
    return PosixFilePermissions.toString(Files.getPosixFilePermissions(file));
  }

  @Test
  void theFolderOfLoginsAndWhatIsInItAreClosedToAllOthers() throws IOException {
    DeviceLogins.of(folder);
    Path access = with(folder.resolve("access"), "rwxrwxrwx");
    Path password = with(access.resolve("dashboard-password"), "rw-r--r--");
    DeviceLogins.of(folder);
    assertEquals("rwx------", rights(access));
    assertEquals("rw-------", rights(password));
  }

  @Test
  void aKeyThatTheSettingsNameIsClosedToThoseOutsideItsGroup() throws IOException {
    Path key = with(Files.writeString(folder.resolve("key.pem"), "key"), "rw-r--r--");
    OwnerOnlyFiles.secret(key);
    assertEquals("rw-r-----", rights(key));
  }
}
