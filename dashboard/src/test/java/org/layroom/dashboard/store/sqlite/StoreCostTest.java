package org.layroom.dashboard.store.sqlite;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.reflect.InvocationHandler;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.sqlite.ProgressHandler;

/**
 * What the store costs, in what can be counted: statements a reading, steps of SQLite's machine a
 * strip (sqlite.org, "The SQLite Bytecode Engine"), bytes a row. Seconds are the benchmark's
 * (STORE.md).
 */
class StoreCostTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Instant FROM = Instant.parse("2026-08-01T00:00:00Z");
  private static final List<String> SERIES =
      List.of("temperature", "humidity", "mold-temperature", "resin-temperature", "voc-raw", "lux");

  @TempDir Path folder;

  private static StoreEntry.Sample sample(long number, Duration every, List<String> series) {
    Instant time = FROM.plus(every.multipliedBy(number));
    return new StoreEntry.Sample(
        BENCH,
        Optional.of(new OutboxPosition("box", number + 1)),
        SampleTimes.asSaid(time, time.plusMillis(200)),
        series.stream().map(name -> Reading.of(name, "", 20 + (int) (number % 7))).toList(),
        List.of());
  }

  private static Object counted(Class<?> type, Object inner, int[] count) {
    InvocationHandler handler =
        (proxy, method, arguments) -> {
          if (method.getName().startsWith("execute")) {
            count[0]++;
          }
          try {
            Object result = method.invoke(inner, arguments);
            return result instanceof PreparedStatement
                ? counted(PreparedStatement.class, result, count)
                : result;
          } catch (InvocationTargetException e) {
            throw e.getCause() == null ? e : e.getCause();
          }
        };
    return Proxy.newProxyInstance(type.getClassLoader(), new Class<?>[] {type}, handler);
  }

  /** Statements a reading over two hours, after two hours. */
  private double statements(int readingsOfABatch) throws SQLException {
    int[] count = {0};
    try (Connection connection = SqliteFile.connect(folder.resolve("counted.db"), false, 4096)) {
      Schema.NEWEST.bringUpToDate(connection);
      BatchWriter writer =
          new BatchWriter((Connection) counted(Connection.class, connection, count));
      int twoHours = 720;
      for (int number = 0; number < 2 * twoHours; number += readingsOfABatch) {
        if (number == twoHours) {
          count[0] = 0;
        }
        List<StoreEntry> batch = new ArrayList<>();
        for (int i = 0; i < readingsOfABatch; i++) {
          batch.add(sample(number + i, Duration.ofSeconds(10), SERIES));
        }
        assertEquals(
            number + readingsOfABatch, writer.append(batch).marks().get(0).mark().sequence());
      }
      return (double) count[0] / twoHours;
    }
  }

  @Test
  void aMinuteOfReadingsCostsLessThanTwoStatementsAReading() throws SQLException {
    double each = statements(6);
    assertTrue(each < 2, each + " statements a reading");
  }

  @Test
  void aReadingThatIsCommittedAloneCostsFewStatements() throws SQLException {
    double each = statements(1);
    assertTrue(each < 5, each + " statements a reading");
  }

  private static long number(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(sql)) {
      return row.getLong(1);
    }
  }

  private interface Work {
    int done() throws SQLException;
  }

  /** Steps of SQLite's machine, to a hundred. */
  private static long steps(Connection connection, int buckets, Work work) throws SQLException {
    long[] steps = {0};
    ProgressHandler.setHandler(
        connection,
        100,
        new ProgressHandler() {
          @Override
          protected int progress() {
            steps[0] += 100;
            return 0;
          }
        });
    assertEquals(buckets, work.done());
    ProgressHandler.clearHandler(connection);
    return steps[0];
  }

  @Test
  void aLongStripReadsHoursOnly() throws SQLException {
    int days = 30;
    int aDay = 2880;
    try (Store store = SqliteStore.open(FolderLock.take(folder), Schema.NEWEST)) {
      for (int day = 0; day < days; day++) {
        List<StoreEntry> batch = new ArrayList<>();
        for (int i = 0; i < aDay; i++) {
          batch.add(sample((long) day * aDay + i, Duration.ofSeconds(30), SERIES.subList(0, 1)));
        }
        store.append(batch);
      }
    }
    Instant to = FROM.plus(Duration.ofDays(days));
    int points = 8 * days;
    try (Connection connection = SqliteFile.connect(folder.resolve("layroom.db"), true, 1024)) {
      StripQuery query = new StripQuery(connection, 1, "temperature");
      long strip = steps(connection, points, () -> query.ask(FROM, to, points).buckets().size());
      long scan =
          steps(
              connection,
              points,
              () ->
                  (int)
                      number(
                          connection,
                          "select count(*) from (select min(temperature), max(temperature),"
                              + " avg(temperature), count(temperature) from reading group by"
                              + " (time - 1785542400000) / 10800000)"));
      long hours = number(connection, "select count(*) from hour");
      assertEquals(days * 24L - 1, hours, "the last hour is not over");
      assertTrue(scan > 20 * strip, "scan " + scan + ", strip " + strip);
      long rows = hours + aDay / 24;
      assertTrue(strip < 60 * rows, strip + " steps for " + rows + " hours and open readings");
      assertTrue(
          number(connection, "select sum(pgsize) from dbstat where name = 'hour'") < 64 * hours,
          "bytes of an hour");
    }
  }
}
