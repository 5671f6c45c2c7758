package org.layroom.dashboard.access;

/** Who asks. */
public sealed interface Caller {

  /** Whether they may look at the shop. */
  boolean mayRead();

  /** Whether they may change something in it. */
  boolean mayWrite();

  /** Whose event streams are counted together. */
  String holder();

  /** Somebody who sits at the dashboard's own machine: everything. */
  record Here() implements Caller {
    @Override
    public boolean mayRead() {
      return true;
    }

    @Override
    public boolean mayWrite() {
      return true;
    }

    @Override
    public String holder() {
      return "here";
    }
  }

  /** Somebody elsewhere whose device is paired. */
  record Paired(AccessSession session) implements Caller {
    @Override
    public boolean mayRead() {
      return true;
    }

    @Override
    public boolean mayWrite() {
      return session.role() == Role.FULL;
    }

    @Override
    public String holder() {
      return session.id();
    }
  }

  /** A program, with a token of its own. */
  record Program(AccessSession session) implements Caller {
    @Override
    public boolean mayRead() {
      return session.role() != Role.CALENDAR;
    }

    @Override
    public boolean mayWrite() {
      return session.role() == Role.FULL;
    }

    @Override
    public String holder() {
      return session.id();
    }
  }

  /** Anybody else: nothing but the pairing screen. */
  record Stranger() implements Caller {
    @Override
    public boolean mayRead() {
      return false;
    }

    @Override
    public boolean mayWrite() {
      return false;
    }

    @Override
    public String holder() {
      return "stranger";
    }
  }
}
