package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A data folder that version 0.1.0 has used. */
class FormerFoldersTest {
  @TempDir Path data;

  private Path file(String first, String... more) throws IOException {
    Path folder = data;
    String name = first;
    for (String next : more) {
      folder = Files.createDirectories(folder.resolve(name));
      name = next;
    }
    return Files.writeString(folder.resolve(name), "x");
  }

  @Test
  void whatNobodyReadsAnyMoreGoesAndNothingElse() throws IOException {
    file("broker", "journal", "activemq-data-1.amq");
    file("broker", "bindings", "activemq-bindings-1.bindings");
    file("broker", "damaged-20261101-120000", "journal", "activemq-data-1.amq");
    file("outgoing", "layroom-1-broker", "s-1.msg");
    Path certificate = file("broker", "certificate.p12");
    Path store = file("layroom.db");
    Path login = file("access", "devices");
    FormerFolders.remove(data);
    assertFalse(Files.exists(data.resolve("broker").resolve("journal")));
    assertFalse(Files.exists(data.resolve("broker").resolve("bindings")));
    assertFalse(Files.exists(data.resolve("broker").resolve("damaged-20261101-120000")));
    assertFalse(Files.exists(data.resolve("outgoing")));
    assertTrue(Files.exists(certificate));
    assertTrue(Files.exists(store));
    assertTrue(Files.exists(login));
    FormerFolders.remove(data);
  }
}
