using Commission.Core.Characteristics;
using Commission.Core.Procedures;

namespace Commission.Core.Tests.Procedures;

public class AnswerDoubtTests
{
    // Common practice, no source: the value proposed, the old one and one between are what people set.
    [Theory]
    [InlineData(319.606, false)]
    [InlineData(320, false)]
    [InlineData(319.8, false)]
    [InlineData(3196.06, true)]
    [InlineData(316.906, true)]
    [InlineData(31.9606, true)]
    public void A_told_value_is_doubted_where_it_is_far_from_the_proposal_and_from_what_held_before(double told, bool doubted)
    {
        var proposed = new ProposedSetting { Name = "stepsPerMm", Axis = "Y", ExpressedAs = "steps/mm", Current = 320, Proposed = 319.6056, AsStored = 319.606, RoundingError = 0 };
        Assert.Equal(doubted ? 319.606 : null, AnswerDoubt.About(proposed, "it", told)?.Meant);
    }
}
