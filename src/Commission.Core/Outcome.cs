using System.Collections.Immutable;
using System.Diagnostics;

namespace Commission.Core;

/// <summary>A value, or every problem that stood in its way. What a programmer can cause throws instead.</summary>
/// <typeparam name="T">The type of the value.</typeparam>
public abstract record Outcome<T>
{
    private Outcome()
    {
    }

    /// <summary>The value was obtained.</summary>
    /// <param name="Value">The value.</param>
    public sealed record Good(T Value) : Outcome<T>;

    /// <summary>The value could not be obtained.</summary>
    /// <param name="Problems">All problems found, at least one.</param>
    public sealed record Bad(ImmutableArray<Problem> Problems) : Outcome<T>;

    /// <summary>Wraps a value.</summary>
    public static implicit operator Outcome<T>(T value) => new Good(value);

    /// <summary>Wraps one problem.</summary>
    public static implicit operator Outcome<T>(Problem problem) => new Bad([problem]);

    /// <summary>Goes on with the value, or passes the problems along.</summary>
    public Outcome<TNext> Then<TNext>(Func<T, Outcome<TNext>> next) => this switch
    {
        Good good => next(good.Value),
        Bad bad => new Outcome<TNext>.Bad(bad.Problems),
        _ => throw new UnreachableException(),
    };

    /// <summary>One result from either case.</summary>
    public TResult Match<TResult>(Func<T, TResult> good, Func<ImmutableArray<Problem>, TResult> bad) => this switch
    {
        Good g => good(g.Value),
        Bad b => bad(b.Problems),
        _ => throw new UnreachableException(),
    };

    /// <summary>The value; throws where there is none. For tests and for what is known to be good.</summary>
    /// <exception cref="InvalidOperationException">There are problems instead of a value.</exception>
    public T Require() => this switch
    {
        Good good => good.Value,
        Bad bad => throw new InvalidOperationException(string.Join(Environment.NewLine, bad.Problems)),
        _ => throw new UnreachableException(),
    };
}
