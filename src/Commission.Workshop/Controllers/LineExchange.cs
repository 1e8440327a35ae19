using Commission.Core.Motion;

namespace Commission.Workshop.Controllers;

/// <summary>How a line was answered.</summary>
internal abstract record LineResult
{
    private LineResult()
    {
    }

    /// <summary>Taken.</summary>
    public sealed record Taken(IReadOnlyList<Answer> Told) : LineResult;

    /// <summary>Refused.</summary>
    public sealed record Refused(string Code) : LineResult;

    /// <summary>Not answered in its time, or the link ended.</summary>
    public sealed record Unanswered(string Why) : LineResult;

    /// <summary>Not sent, or not to its end.</summary>
    public sealed record NotSent(Fate Fate, string? Why = null) : LineResult;
}

/// <summary>The one line that waits for its answer. An answer that nobody waits for is told to the link; it never answers a later line.</summary>
internal sealed class LineExchange
{
    private readonly Lock turn = new();
    private readonly List<Answer> told = [];
    private TaskCompletionSource<LineResult>? open;
    private bool owed;

    /// <summary>Opens the exchange before its bytes leave; null while the answer to an earlier line is still owed.</summary>
    public Task<LineResult>? Open()
    {
        lock (turn)
        {
            if (owed || open is not null)
                return null;
            told.Clear();
            open = new(TaskCreationOptions.RunContinuationsAsynchronously);
            return open.Task;
        }
    }

    /// <summary>Content of an answer: belongs to the line that waits.</summary>
    public void Content(Answer answer)
    {
        lock (turn)
            if (open is not null)
                told.Add(answer);
    }

    /// <summary>An acknowledgement or a refusal.</summary>
    /// <returns>False where nobody waits for it.</returns>
    public bool Close(Func<IReadOnlyList<Answer>, LineResult> result)
    {
        lock (turn)
        {
            if (open is null)
            {
                var late = owed;
                owed = false;
                return late;
            }
            open.TrySetResult(result([.. told]));
            open = null;
            return true;
        }
    }

    /// <summary>Gives up waiting. The answer stays owed, so that when it comes it is taken for what it is.</summary>
    public void GiveUp(string why, bool staysOwed)
    {
        lock (turn)
        {
            owed = staysOwed && open is not null;
            open?.TrySetResult(new LineResult.Unanswered(why));
            open = null;
        }
    }

    /// <summary>The controller restarted, or has been silent long enough: nothing is owed any more.</summary>
    public void Forgive()
    {
        lock (turn)
            owed = false;
    }
}
