package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.Optional;
import java.util.function.Supplier;
import org.layroom.dashboard.backup.Backups;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.RepairReport;
import org.layroom.dashboard.store.Store;

/**
 * What is to be said about the store: that it was damaged and mended, until somebody has seen it.
 */
public final class StoreAnswers {
  private static final String STREAM = "store";

  private final Store store;
  private final Backups backups;
  private final Supplier<Instant> now;

  /** The answers about a store, with the making of its backups. */
  public StoreAnswers(Store store, Backups backups, Supplier<Instant> now) {
    this.store = store;
    this.backups = backups;
    this.now = now;
    store
        .mended()
        .ifPresent(one -> store.events().append(STREAM, told(one), now.get(), one.words()));
  }

  public Backups backups() {
    return backups;
  }

  private static String told(RepairReport mended) {
    return "mended/" + mended.setAside();
  }

  private static String seenId(RepairReport mended) {
    return "seen/" + mended.setAside();
  }

  /** The state of the store. */
  public ObjectNode state() {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("damageSeen", true);
    json.putNull("mended");
    store.mended().ifPresent(one -> describe(json, one));
    return json;
  }

  private void describe(ObjectNode json, RepairReport one) {
    Optional<EventLog.Event> seen = store.events().find(STREAM, seenId(one));
    json.put("damageSeen", seen.isPresent());
    ObjectNode mended = json.putObject("mended");
    store
        .events()
        .find(STREAM, told(one))
        .ifPresent(event -> mended.put("time", event.time().toString()));
    mended.put("words", one.words());
    mended.put("problem", one.problem());
    mended.put("setAside", one.setAside());
    mended.put("rowsKept", one.rowsKept());
    ArrayNode lost = mended.putArray("lost");
    one.lost().forEach(lost::add);
    seen.ifPresent(event -> mended.put("seenBy", event.body()));
  }

  /** What a person has not said to have seen yet. */
  static Optional<String> unseen(Store store) {
    return store
        .mended()
        .filter(one -> store.events().find(STREAM, seenId(one)).isEmpty())
        .map(RepairReport::words);
  }

  /**
   * Somebody has seen that the store was damaged.
   *
   * @param who 1 to 60 characters
   */
  public ObjectNode seen(String who) {
    store.mended().ifPresent(one -> store.events().append(STREAM, seenId(one), now.get(), who));
    return state();
  }
}
