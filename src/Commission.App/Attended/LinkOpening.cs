using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.Motion;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;

namespace Commission.App.Attended;

/// <summary>Opens a port for a request: says first what that does to the machine, and asks.</summary>
/// <param name="bench">What all verbs share.</param>
/// <param name="answer">Tells what goes wrong beside the link and does not end it.</param>
internal sealed class LinkOpening(Workbench bench, CommandLine.Answer answer)
{
    /// <summary>Asks, then opens.</summary>
    /// <param name="request">The controller.</param>
    /// <param name="facts">Facts of the machine; null where none is known.</param>
    /// <param name="asking">Where is asked.</param>
    /// <param name="agreed">Whether the question was answered beforehand; it is printed all the same.</param>
    /// <param name="cancellation">Ends it.</param>
    public async Task<Outcome<ControllerLink>> OpenAsync(
        LinkRequest request, MotionFacts? facts, Asking asking, bool agreed, CancellationToken cancellation)
    {
        var connect = new ConnectController(bench.Here.Ports, bench.Files, bench.Here.Clock, problem => answer.Problems([problem]));
        // A wrong name is told before anything is asked.
        if (connect.Dialect(request.Address.Dialect) is Outcome<Core.Machines.Dialects.Dialect>.Bad unknown)
            return new Outcome<ControllerLink>.Bad(unknown.Problems);
        if (agreed)
            asking.Say(ConnectController.Warning + " Answered with --yes.");
        else if (!asking.Confirm("port", ConnectController.Warning + " yes or S opens the port, no does not."))
            return new Problem("the port was not opened", "Unplug the spindle, end any job, put a block under Z, then answer yes");
        using var limit = new CancellationTokenSource(request.Longest, bench.Here.Clock);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancellation);
        try
        {
            var opened = await connect.RunAsync(request.Address, facts, either.Token).ConfigureAwait(false);
            if (opened is Outcome<ControllerLink>.Good { Value.Now.Remark: { } remark })
                asking.Say("Remark: " + remark + ".");
            return opened.Match(link => new Outcome<ControllerLink>.Good(link), Failed);
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            return new Problem("the controller did not answer in the time given", "Check power, cable, speed and dialect, or give more with --timeout") { IsFailure = true };
        }
    }

    /// <summary>Opens for a verb that no machine need be known for, and closes after it.</summary>
    /// <param name="request">The controller.</param>
    /// <param name="agreed">Whether the question was answered beforehand.</param>
    /// <param name="use">What the verb does; it may ask on.</param>
    /// <param name="cancellation">Ends it.</param>
    /// <returns>The exit code.</returns>
    public async Task<int> UseAsync(LinkRequest request, bool agreed, Func<ControllerLink, Asking, Task<int>> use, CancellationToken cancellation)
    {
        var asking = new Asking(bench.Here.In, answer.Json ? bench.Here.Error : bench.Here.Out);
        var opened = await OpenAsync(request, null, asking, agreed, cancellation).ConfigureAwait(false);
        if (opened is not Outcome<ControllerLink>.Good { Value: var link })
            return answer.Problems(((Outcome<ControllerLink>.Bad)opened).Problems);
        await using var held = bench.Here.Link.Hold(link);
        return await use(link, asking).ConfigureAwait(false);
    }

    /// <summary>The same problems as failures of the controller, which end the program with another code than a bad request.</summary>
    public static Outcome<ControllerLink> Failed(ImmutableArray<Problem> problems) =>
        new Outcome<ControllerLink>.Bad([.. problems.Select(problem => problem with { IsFailure = true })]);
}
