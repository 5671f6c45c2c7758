package org.layroom.dashboard.store.sqlite;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Optional;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.RepairReport;
import org.tinylog.Logger;

/** Where a rebuilt store keeps what became of the damaged one: among its settings. */
public final class RepairSetting {
  private static final String NAME = "mended";
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private RepairSetting() {}

  /** Writes it into a store that is not open yet. */
  public static void write(Connection store, RepairReport mended)
      throws SQLException, JsonProcessingException {
    try (PreparedStatement insert =
        store.prepareStatement("insert or replace into setting(name, value) values(?, ?)")) {
      insert.setString(1, NAME);
      insert.setString(2, JSON.writeValueAsString(mended));
      insert.executeUpdate();
    }
  }

  static Optional<RepairReport> read(EventLog events) {
    try {
      Optional<String> kept = events.setting(NAME);
      return kept.isEmpty()
          ? Optional.empty()
          : Optional.of(JSON.readValue(kept.get(), RepairReport.class));
    } catch (JsonProcessingException e) {
      Logger.debug(e, "The record of the last repair cannot be read");
      return Optional.empty();
    }
  }
}
